using System.Text.RegularExpressions;

namespace SetWeek.Service.Tests.Architecture;

/// <summary>Each type name is unique in src, so that no file needs an alias.</summary>
public sealed partial class TypeNameTests
{
    [Fact]
    public void No_type_name_is_declared_twice()
    {
        var duplicates = Declared().GroupBy(type => type.Name)
            .Where(same => same.Select(type => type.File).Distinct().Count() > 1)
            .ToDictionary(same => same.Key, same => string.Join(" and ", same.Select(type => type.File).Distinct().Order()));
        string[] faults =
        [
            .. duplicates.Where(duplicate => !Projects.KnownDuplicates.Contains(duplicate.Key))
                .Select(duplicate => $"{duplicate.Key} is declared in {duplicate.Value}."),
            .. Projects.KnownDuplicates.Where(name => !duplicates.ContainsKey(name))
                .Select(name => $"{name} is declared once. Remove it from the list of known duplicates."),
        ];
        Assert.True(faults.Length == 0, string.Join("\n", faults));
    }

    /// <summary>Types declared in a namespace. Nested types are not included.</summary>
    private static IEnumerable<(string Name, string File)> Declared() =>
        from project in Directory.EnumerateDirectories(Repository.PathOf("src")).Select(folder => Path.GetFileName(folder)!)
        from file in Projects.Sources(project)
        let text = File.ReadAllText(Repository.PathOf("src", project, file))
        from declaration in TopLevelType().Matches(text)
        // The parts of a partial type count as one declaration in their project.
        select (declaration.Groups["name"].Value, declaration.Value.Contains(" partial ") ? project : $"{project}/{file}");

    /// <summary>A declaration without indentation, after its modifiers.</summary>
    [GeneratedRegex(@"^(?:(?:public|internal|file|static|sealed|abstract|partial|readonly|ref|unsafe)\s+)*"
        + @"(?:class|struct|interface|enum|record(?:\s+(?:class|struct))?|delegate\s+[\w<>\[\],.? ]+?)"
        + @"\s+(?<name>\w+)(?=[\s<({:;]|$)", RegexOptions.Multiline)]
    private static partial Regex TopLevelType();
}
