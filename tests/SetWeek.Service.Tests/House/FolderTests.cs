using Mono.Cecil;

namespace SetWeek.Service.Tests.House;

/// <summary>
/// The folders of a project form layers: no folder refers to another that refers back to it, directly or over others
/// (docs/decisions/layout.md).
/// </summary>
public sealed class FolderTests
{
    private const string FilesOfItsOwn = "(files)";
    private const int MostFiles = 16;

    public static TheoryData<string> Projects => new(House.Projects.Checked);

    /// <summary>
    /// In each folder the sub-folders, each with all that lies below it, and the folder's own files as one more unit form no
    /// cycle of references.
    /// </summary>
    [Theory]
    [MemberData(nameof(Projects))]
    public void No_folder_is_in_a_cycle_of_references(string project)
    {
        using var module = House.Projects.Read(project);
        var references = TypeReferences.Of(module).ToList();
        var cycles = Folders(module).SelectMany(folder => CyclesIn(folder, references)).ToList();
        Assert.True(cycles.Count == 0, string.Join("\n\n", cycles));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_namespace_is_the_folder_that_it_lies_in(string project)
    {
        using var module = House.Projects.Read(project);
        var wrong = House.Projects.Sources(project)
            .Select(file => (File: file, Declared: NamespaceIn(Repository.PathOf("src", project, file)),
                Expected: string.Join('.', file.Split('/').SkipLast(1).Prepend(project))))
            .Where(one => one.Declared is not null && one.Declared != one.Expected)
            .Select(one => $"{one.File} declares {one.Declared}; its folder is {one.Expected}.");
        Assert.Empty(wrong);
        var folders = House.Projects.Sources(project)
            .Select(file => string.Join('.', file.Split('/').SkipLast(1).Prepend(project))).ToHashSet(StringComparer.Ordinal);
        var types = module.Types.Where(type =>
            type.Namespace.StartsWith("SetWeek.", StringComparison.Ordinal) && !TypeReferences.IsGenerated(type));
        Assert.All(types, type => Assert.Contains(type.Namespace, folders));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void No_folder_holds_more_files_than_one_takes_in_at_a_glance(string project) =>
        Assert.Empty(House.Projects.Sources(project).GroupBy(file => Path.GetDirectoryName(file)!)
            .Where(folder => folder.Count() > MostFiles).Select(folder => $"{project}/{folder.Key} holds {folder.Count()} files."));

    [Fact]
    public void A_cycle_is_found_and_said_with_its_folders_and_types()
    {
        using var module = House.Projects.Read("SetWeek.Service.Tests");
        var cycle = Assert.Single(CyclesIn("SetWeek.Service.Tests.House.Circle", [.. TypeReferences.Of(module)]));
        Assert.Contains("Left -> Right by LeftType -> RightType", cycle);
        Assert.Contains("Right -> Left by RightType -> LeftType", cycle);
    }

    /// <summary>Each namespace of the module, and each above one.</summary>
    private static IEnumerable<string> Folders(ModuleDefinition module) => module.Types
        .Where(type => !TypeReferences.IsGenerated(type))
        .SelectMany(type => type.Namespace.Split('.').Index()
            .Select(part => string.Join('.', type.Namespace.Split('.').Take(part.Index + 1))))
        .Where(name => name.StartsWith("SetWeek.", StringComparison.Ordinal)).Distinct().Order(StringComparer.Ordinal);

    private static IEnumerable<string> CyclesIn(string folder, List<(TypeDefinition From, TypeDefinition To)> references)
    {
        var edges = references
            .Select(one => (From: UnitOf(one.From, folder), To: UnitOf(one.To, folder),
                Types: $"{one.From.Name} -> {one.To.Name}"))
            .Where(one => one.From is not null && one.To is not null && one.From != one.To)
            .GroupBy(one => (From: one.From!, To: one.To!))
            .ToDictionary(edge => edge.Key,
                edge => edge.Select(one => one.Types).Distinct().Order(StringComparer.Ordinal).ToList());
        var inCycle = edges.Keys.Where(edge => Reaches(edges.Keys, edge.To, edge.From)).ToList();
        if (inCycle.Count == 0) yield break;
        yield return $"In {folder} these refer to one another in a circle:\n" + string.Join("\n", inCycle
            .OrderBy(edge => edge.From, StringComparer.Ordinal).ThenBy(edge => edge.To, StringComparer.Ordinal)
            .Select(edge => $"  {edge.From} -> {edge.To} by {string.Join(", ", edges[edge].Take(5))}"
                + (edges[edge].Count > 5 ? $" and {edges[edge].Count - 5} more" : "")));
    }

    /// <summary>The child of the folder that the type lies in, or the folder's own files; null outside the folder.</summary>
    private static string? UnitOf(TypeDefinition type, string folder) => type.Namespace == folder ? FilesOfItsOwn
        : type.Namespace.StartsWith(folder + ".", StringComparison.Ordinal) ? type.Namespace[(folder.Length + 1)..].Split('.')[0]
        : null;

    private static bool Reaches(IEnumerable<(string From, string To)> edges, string start, string target)
    {
        var next = edges.ToLookup(edge => edge.From, edge => edge.To);
        var seen = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<string>([start]);
        while (open.TryPop(out var at))
        {
            if (at == target) return true;
            if (!seen.Add(at)) continue;
            foreach (var one in next[at]) open.Push(one);
        }
        return false;
    }

    /// <summary>Null for a file of top-level statements.</summary>
    private static string? NamespaceIn(string file) => File.ReadLines(file)
        .Where(line => line.StartsWith("namespace ", StringComparison.Ordinal))
        .Select(line => line["namespace ".Length..].Trim().TrimEnd(';')).FirstOrDefault();
}
