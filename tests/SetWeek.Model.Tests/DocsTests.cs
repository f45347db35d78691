using System.Text.RegularExpressions;

namespace SetWeek.Model.Tests;

/// <summary>Checks the documentation pages: their links, the files they name, and the index of decisions.</summary>
public sealed partial class DocsTests
{
    private static readonly string[] Folders = ["docs", "ops", "src", "tests"];

    public static TheoryData<string> Pages => new(
        Directory.EnumerateFiles(ExampleFiles.Root, "*.md")
            .Concat(FilesBelow("docs", "ops").Where(file => file.EndsWith(".md", StringComparison.Ordinal)))
            .Select(page => Path.GetRelativePath(ExampleFiles.Root, page)).Order());

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_link_leads_to_a_file_in_the_repository(string page)
    {
        var folder = Path.GetDirectoryName(Path.Combine(ExampleFiles.Root, page))!;
        var dead = Link().Matches(File.ReadAllText(Path.Combine(ExampleFiles.Root, page))).Select(link => link.Groups[1].Value)
            .Where(target => !target.Contains("://") && !target.StartsWith('#'))
            .Where(target => !Path.Exists(Path.Combine(folder, target.Split('#')[0])));
        Assert.Empty(dead);
    }

    /// <summary>For example `ops/test`, `src/SetWeek.Planning/Replanning` and `AllRules.cs`, also in code blocks.</summary>
    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_file_and_command_that_a_page_names_exists(string page)
    {
        var text = File.ReadAllText(Path.Combine(ExampleFiles.Root, page));
        string[] files = [.. FilesBelow(Folders)];
        var named = RepositoryPath().Matches(text).Select(path => path.Value.TrimEnd('.'));
        var source = SourceFile().Matches(text).Select(file => file.Groups[1].Value);
        Assert.DoesNotContain(named, path => !Path.Exists(Path.Combine(ExampleFiles.Root, path)));
        Assert.DoesNotContain(source, name => !files.Any(file => file.EndsWith($"/{name}", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_decision_is_in_the_index_under_its_own_title()
    {
        var folder = Path.Combine(ExampleFiles.Root, "docs", "decisions");
        var index = File.ReadAllText(Path.Combine(folder, "README.md"));
        var entries = Directory.EnumerateFiles(folder, "*.md").Where(page => Path.GetFileName(page) != "README.md")
            .Select(page => $"- [{File.ReadLines(page).First().TrimStart('#', ' ')}]({Path.GetFileName(page)})");
        Assert.All(entries, entry => Assert.Contains(entry, index));
    }

    private static IEnumerable<string> FilesBelow(params string[] folders) => folders.SelectMany(folder =>
        Directory.EnumerateFiles(Path.Combine(ExampleFiles.Root, folder), "*", SearchOption.AllDirectories));

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"(?<![\w./-])(docs|ops|src|tests)/[\w./-]*\w")]
    private static partial Regex RepositoryPath();

    [GeneratedRegex(@"`([\w./]+\.cs)`")]
    private static partial Regex SourceFile();
}
