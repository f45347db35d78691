namespace SetWeek.Service.Tests;

/// <summary>
/// A test that reads a published schema or example outside the project (SETWEEK_DATA, or else ../shared/data). It is skipped
/// where the file is absent.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class OpenDataFactAttribute : FactAttribute
{
    public OpenDataFactAttribute(string file)
    {
        if (!File.Exists(PathOf(file))) Skip = $"{PathOf(file)} is not here: SETWEEK_DATA names the folder of the open data.";
    }

    public static string Read(string file) => File.ReadAllText(PathOf(file));

    private static string PathOf(string file) => Path.Combine(
        Environment.GetEnvironmentVariable("SETWEEK_DATA") is { Length: > 0 } given ? given
            : Repository.PathOf("..", "shared", "data"),
        file);
}
