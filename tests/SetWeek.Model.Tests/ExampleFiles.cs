using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests;

/// <summary>The example files of docs/examples, whose week uses every field.</summary>
internal static class ExampleFiles
{
    public static string Root { get; } =
        FolderAbove(AppContext.BaseDirectory, folder => File.Exists(Path.Combine(folder, "SetWeek.sln")));

    public static byte[] Read(string name) => File.ReadAllBytes(Path.Combine(Root, "docs/examples", name));

    public static Week Week { get; } = WeekFile.Read(Read("bell-yard.week.json")).Match(week => week, Fail<Week>);
    public static Plan Plan { get; } = PlanFile.Read(Read("bell-yard.plan.json"), Week).Match(plan => plan, Fail<Plan>);

    public static T Fail<T>(FaultReport faults) =>
        throw new InvalidOperationException(string.Join('\n', faults.All.Select(fault => $"{fault.Pointer}: {fault.Detail}")));

    private static string FolderAbove(string folder, Func<string, bool> found) =>
        found(folder) ? folder : FolderAbove(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException(), found);
}
