using Mono.Cecil;

namespace SetWeek.Service.Tests.Architecture;

/// <summary>The checked projects, their source files and their assemblies.</summary>
internal static class Projects
{
    /// <summary>The projects whose folders are checked.</summary>
    public static IReadOnlyList<string> Checked { get; } =
        ["SetWeek.Model", "SetWeek.Planning", "SetWeek.Domain", "SetWeek.Service", "SetWeek.Cli"];

    /// <summary>Type names that src declares more than once and that are not yet renamed.</summary>
    public static IReadOnlySet<string> KnownDuplicates { get; } = new HashSet<string>(StringComparer.Ordinal)
    {
    };

    public static ModuleDefinition Read(string project) =>
        ModuleDefinition.ReadModule(Path.Combine(AppContext.BaseDirectory, $"{project}.dll"));

    /// <summary>Paths of the C# files and Razor components of a project, relative to its folder, with slashes.</summary>
    public static IEnumerable<string> Sources(string project)
    {
        var root = Repository.PathOf("src", project);
        return new[] { "*.cs", "*.razor" }.SelectMany(kind => Directory.EnumerateFiles(root, kind, SearchOption.AllDirectories))
            .Select(file => Path.GetRelativePath(root, file).Replace('\\', '/'))
            .Where(file => file.Split('/')[0] is not ("obj" or "bin"));
    }
}
