using System.Text.RegularExpressions;
using SetWeek.Scheduling.Tests.Files;

namespace SetWeek.Scheduling.Tests;

/// <summary>The pages hold together: what they point to is there, and every decision is in the index.</summary>
public sealed partial class DocsTests
{
    public static TheoryData<string> Pages => new(
        Directory.EnumerateFiles(Path.Combine(Examples.Root, "docs"), "*.md", SearchOption.AllDirectories)
            .Concat(Directory.EnumerateFiles(Examples.Root, "*.md"))
            .Select(page => Path.GetRelativePath(Examples.Root, page)).Order());

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_link_leads_to_something_in_the_repository(string page)
    {
        var folder = Path.GetDirectoryName(Path.Combine(Examples.Root, page))!;
        var dead = Link().Matches(File.ReadAllText(Path.Combine(Examples.Root, page))).Select(link => link.Groups[1].Value)
            .Where(target => !target.Contains("://") && !target.StartsWith('#'))
            .Where(target => !Path.Exists(Path.Combine(folder, target.Split('#')[0])));
        Assert.Empty(dead);
    }

    [Fact]
    public void Every_decision_is_in_the_index_under_its_own_title()
    {
        var folder = Path.Combine(Examples.Root, "docs", "decisions");
        var index = File.ReadAllText(Path.Combine(folder, "README.md"));
        var entries = Directory.EnumerateFiles(folder, "*.md").Where(page => Path.GetFileName(page) != "README.md")
            .Select(page => $"- [{File.ReadLines(page).First().TrimStart('#', ' ')}]({Path.GetFileName(page)})");
        Assert.All(entries, entry => Assert.Contains(entry, index));
    }

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Link();
}
