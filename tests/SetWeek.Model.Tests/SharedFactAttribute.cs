namespace SetWeek.Model.Tests;

/// <summary>
/// A test that reads the examples kept beside the project (SETWEEK_EXAMPLES, else ../shared/examples from the project's
/// root). Where they are absent it is reported as skipped, with the reason.
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
