using Mono.Cecil;

namespace SetWeek.Service.Tests.Architecture;

/// <summary>
/// The folders of a project form layers: their references to one another contain no cycle (docs/decisions/layout.md).
/// </summary>
public sealed class FolderTests
{
    private const string OwnFiles = "(files)";
    private const int MaxFiles = 16;

    public static TheoryData<string> Projects => new(Architecture.Projects.Checked);

    /// <summary>
    /// In each folder, the units are its sub-folders with their contents and, as one more unit, its own files. Their references
    /// must contain no cycle.
    /// </summary>
    [Theory]
    [MemberData(nameof(Projects))]
    public void No_folder_is_in_a_cycle_of_references(string project)
    {
        using var module = Architecture.Projects.Read(project);
        var references = TypeReferences.Of(module).ToList();
        var cycles = Folders(module).SelectMany(folder => CyclesIn(folder, references)).ToList();
        Assert.True(cycles.Count == 0, string.Join("\n\n", cycles));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_namespace_matches_its_folder(string project)
    {
        using var module = Architecture.Projects.Read(project);
        var wrong = Architecture.Projects.Sources(project)
            .Select(file => (File: file, Declared: NamespaceIn(Repository.PathOf("src", project, file)),
                Expected: string.Join('.', file.Split('/').SkipLast(1).Prepend(project))))
            .Where(source => source.Declared is not null && source.Declared != source.Expected)
            .Select(source => $"{source.File} declares {source.Declared}; its folder is {source.Expected}.");
        Assert.Empty(wrong);
        var folders = Architecture.Projects.Sources(project)
            .Select(file => string.Join('.', file.Split('/').SkipLast(1).Prepend(project))).ToHashSet(StringComparer.Ordinal);
        var types = module.Types.Where(type =>
            type.Namespace.StartsWith("SetWeek.", StringComparison.Ordinal) && !TypeReferences.IsGenerated(type));
        Assert.All(types, type => Assert.Contains(type.Namespace, folders));
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void No_folder_has_too_many_files(string project) =>
        Assert.Empty(Architecture.Projects.Sources(project).GroupBy(file => Path.GetDirectoryName(file)!)
            .Where(folder => folder.Count() > MaxFiles).Select(folder =>
                $"{project}/{folder.Key} holds {folder.Count()} files."));

    [Fact]
    public void A_cycle_is_found_with_its_folders_and_types()
    {
        using var module = Architecture.Projects.Read("SetWeek.Service.Tests");
        var cycle = Assert.Single(CyclesIn("SetWeek.Service.Tests.Architecture.Cycle", [.. TypeReferences.Of(module)]));
        Assert.Contains("Left -> Right by LeftType -> RightType", cycle);
        Assert.Contains("Right -> Left by RightType -> LeftType", cycle);
    }

    /// <summary>All namespaces of the module and their parents.</summary>
    private static IEnumerable<string> Folders(ModuleDefinition module) => module.Types
        .Where(type => !TypeReferences.IsGenerated(type))
        .SelectMany(type => type.Namespace.Split('.').Index()
            .Select(part => string.Join('.', type.Namespace.Split('.').Take(part.Index + 1))))
        .Where(name => name.StartsWith("SetWeek.", StringComparison.Ordinal)).Distinct().Order(StringComparer.Ordinal);

    private static IEnumerable<string> CyclesIn(string folder, List<(TypeDefinition From, TypeDefinition To)> references)
    {
        var edges = references
            .Select(reference => (From: UnitOf(reference.From, folder), To: UnitOf(reference.To, folder),
                Types: $"{reference.From.Name} -> {reference.To.Name}"))
            .Where(reference => reference.From is not null && reference.To is not null && reference.From != reference.To)
            .GroupBy(reference => (From: reference.From!, To: reference.To!))
            .ToDictionary(edge => edge.Key,
                edge => edge.Select(reference => reference.Types).Distinct().Order(StringComparer.Ordinal).ToList());
        var inCycle = edges.Keys.Where(edge => Reaches(edges.Keys, edge.To, edge.From)).ToList();
        if (inCycle.Count == 0) yield break;
        yield return $"References in {folder} contain a cycle:\n" + string.Join("\n", inCycle
            .OrderBy(edge => edge.From, StringComparer.Ordinal).ThenBy(edge => edge.To, StringComparer.Ordinal)
            .Select(edge => $"  {edge.From} -> {edge.To} by {string.Join(", ", edges[edge].Take(5))}"
                + (edges[edge].Count > 5 ? $" and {edges[edge].Count - 5} more" : "")));
    }

    /// <summary>The sub-folder that contains the type, or the unit of the folder's own files; null outside the folder.</summary>
    private static string? UnitOf(TypeDefinition type, string folder) => type.Namespace == folder ? OwnFiles
        : type.Namespace.StartsWith(folder + ".", StringComparison.Ordinal) ? type.Namespace[(folder.Length + 1)..].Split('.')[0]
        : null;

    private static bool Reaches(IEnumerable<(string From, string To)> edges, string start, string target)
    {
        var next = edges.ToLookup(edge => edge.From, edge => edge.To);
        var visited = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<string>([start]);
        while (open.TryPop(out var node))
        {
            if (node == target) return true;
            if (!visited.Add(node)) continue;
            foreach (var successor in next[node]) open.Push(successor);
        }
        return false;
    }

    /// <summary>Null for a file of top-level statements.</summary>
    private static string? NamespaceIn(string file) => File.ReadLines(file)
        .Where(line => line.StartsWith("namespace ", StringComparison.Ordinal))
        .Select(line => line["namespace ".Length..].Trim().TrimEnd(';')).FirstOrDefault();
}
