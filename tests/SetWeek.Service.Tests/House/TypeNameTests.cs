using System.Text.RegularExpressions;

namespace SetWeek.Service.Tests.House;

/// <summary>A type name means one thing in the whole of src, so that no file needs an alias to tell two apart.</summary>
public sealed partial class TypeNameTests
{
    [Fact]
    public void No_type_name_is_declared_twice()
    {
        var twice = Declared().GroupBy(one => one.Name).Where(same => same.Select(one => one.File).Distinct().Count() > 1)
            .ToDictionary(same => same.Key, same => string.Join(" and ", same.Select(one => one.File).Distinct().Order()));
        string[] wrong =
        [
            .. twice.Where(one => !Projects.KnownDuplicates.Contains(one.Key))
                .Select(one => $"{one.Key} is declared in {one.Value}."),
            .. Projects.KnownDuplicates.Where(name => !twice.ContainsKey(name))
                .Select(name => $"{name} is declared once by now; take it off the list of known duplicates."),
        ];
        Assert.True(wrong.Length == 0, string.Join("\n", wrong));
    }

    /// <summary>Types that stand in a namespace; those nested in another are named with it.</summary>
    private static IEnumerable<(string Name, string File)> Declared() =>
        from project in Directory.EnumerateDirectories(Repository.PathOf("src")).Select(folder => Path.GetFileName(folder)!)
        from file in Projects.Sources(project)
        let text = File.ReadAllText(Repository.PathOf("src", project, file))
        from declaration in TopLevelType().Matches(text)
        // The parts of a partial type share its name: their project stands for all their files.
        select (declaration.Groups["name"].Value, declaration.Value.Contains(" partial ") ? project : $"{project}/{file}");

    /// <summary>A declaration without indentation, after its modifiers.</summary>
    [GeneratedRegex(@"^(?:(?:public|internal|file|static|sealed|abstract|partial|readonly|ref|unsafe)\s+)*"
        + @"(?:class|struct|interface|enum|record(?:\s+(?:class|struct))?|delegate\s+[\w<>\[\],.? ]+?)"
        + @"\s+(?<name>\w+)(?=[\s<({:;]|$)", RegexOptions.Multiline)]
    private static partial Regex TopLevelType();
}
