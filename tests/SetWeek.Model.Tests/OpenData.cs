namespace SetWeek.Model.Tests;

/// <summary>
/// Open data that is not part of the project: SETWEEK_DATA names its folder, "../shared/data" beside the project unless given.
/// </summary>
internal static class OpenData
{
    public static string? Folder { get; } = Find();

    public static string PathOf(string name) => Path.Combine(Folder!, name);

    /// <summary>Why a test of that file or folder is skipped; null where it is there.</summary>
    public static string? Missing(string name) => Folder is not null && Path.Exists(PathOf(name))
        ? null : $"{name} is not here: SETWEEK_DATA names the folder of the open data.";

    private static string? Find()
    {
        var given = Environment.GetEnvironmentVariable("SETWEEK_DATA");
        if (!string.IsNullOrEmpty(given)) return Directory.Exists(given) ? given : null;
        var beside = Path.GetFullPath(Path.Combine(ExampleFiles.Root, "..", "shared", "data"));
        return Directory.Exists(beside) ? beside : null;
    }
}
