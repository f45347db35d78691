namespace SetWeek.Model.Tests;

/// <summary>
/// Published data sets that are not part of the project. SETWEEK_DATA names their folder; the default is "../shared/data" beside
/// the project.
/// </summary>
internal static class OpenData
{
    public static string? Folder { get; } = Find();

    public static string PathOf(string name) => Path.Combine(Folder!, name);

    /// <summary>Why a test of this file or folder is skipped; null if the file or folder exists.</summary>
    public static string? SkipReason(string name) => Folder is not null && Path.Exists(PathOf(name))
        ? null : $"{name} is not here: SETWEEK_DATA names the folder of the open data.";

    private static string? Find()
    {
        var given = Environment.GetEnvironmentVariable("SETWEEK_DATA");
        if (!string.IsNullOrEmpty(given)) return Directory.Exists(given) ? given : null;
        var beside = Path.GetFullPath(Path.Combine(ExampleFiles.Root, "..", "shared", "data"));
        return Directory.Exists(beside) ? beside : null;
    }
}
