using Xunit;

namespace SetWeek.Scheduling.Tests;

/// <summary>
/// A test that reads the open data kept beside the project (SETWEEK_DATA, else ../shared/data from the project's root).
/// Where it is absent the test is reported as skipped, with the reason.
/// </summary>
internal sealed class SharedDataFactAttribute : FactAttribute
{
    public SharedDataFactAttribute()
    {
        if (!Directory.Exists(Folder)) Skip = $"The data is not there: {Folder}. Set SETWEEK_DATA to its folder.";
    }

    public static string Folder { get; } = Environment.GetEnvironmentVariable("SETWEEK_DATA") is { Length: > 0 } set
        ? set : Path.GetFullPath(Path.Combine(SharedFactAttribute.Folder, "..", "data"));
}
