namespace SetWeek.Model.Tests;

/// <summary>
/// A test that reads the examples outside the project (SETWEEK_EXAMPLES, or else ../shared/examples beside the project). It is
/// skipped, with the reason, where they are absent.
/// </summary>
internal sealed class SharedFactAttribute : FactAttribute
{
    public SharedFactAttribute()
    {
        if (!Directory.Exists(Folder)) Skip = $"The examples are not there: {Folder}. Set SETWEEK_EXAMPLES to their folder.";
    }

    public static string Folder { get; } = Environment.GetEnvironmentVariable("SETWEEK_EXAMPLES") is { Length: > 0 } set
        ? set : Path.GetFullPath(Path.Combine(ExampleFiles.Root, "..", "shared", "examples"));

    public static byte[] Read(string file) => File.ReadAllBytes(Path.Combine(Folder, file));
}
