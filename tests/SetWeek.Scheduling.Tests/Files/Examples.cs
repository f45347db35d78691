using SetWeek.Scheduling.Files;
using Xunit;

namespace SetWeek.Scheduling.Tests.Files;

/// <summary>The example files of docs/examples, whose week uses every field, and those that lie beside the project.</summary>
internal static class Examples
{
    public static string Root { get; } = Above(AppContext.BaseDirectory, folder => File.Exists(Path.Combine(folder, "SetWeek.sln")));

    public static byte[] Read(string name) => File.ReadAllBytes(Path.Combine(Root, "docs/examples", name));

    public static Week Week { get; } = WeekFile.Read(Read("bell-yard.week.json")).Match(week => week, Fail<Week>);
    public static Plan Plan { get; } = PlanFile.Read(Read("bell-yard.plan.json"), Week).Match(plan => plan, Fail<Plan>);

    /// <summary>Where the shared examples and data lie, a sibling of the checkout; null where they do not.</summary>
    public static string? Shared { get; } = Path.Combine(Root, "..", "shared") is var folder && Directory.Exists(folder) ? folder : null;

    public static T Fail<T>(Faults faults) =>
        throw new InvalidOperationException(string.Join('\n', faults.All.Select(fault => $"{fault.Pointer}: {fault.Detail}")));

    private static string Above(string folder, Func<string, bool> found) =>
        found(folder) ? folder : Above(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException(), found);
}

/// <summary>A fact that needs a folder beside the project, and is reported as skipped where that is not there.</summary>
internal sealed class SharedFactAttribute : FactAttribute
{
    public SharedFactAttribute(string folder)
    {
        if (Examples.Shared is not { } shared || !Directory.Exists(Path.Combine(shared, folder))) Skip = $"../shared/{folder} is not there";
    }
}
