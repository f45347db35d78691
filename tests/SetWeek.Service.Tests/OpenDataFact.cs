namespace SetWeek.Service.Tests;

/// <summary>
/// A test that reads a published schema or example kept beside the project (SETWEEK_DATA, else ../shared/data); skipped by
/// name without.
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
