using System.Globalization;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Runs the fixed weeks and weeks of growing size. Reports the time to the first plan, values and gaps of the goals over time,
/// whether the minimum number of nights is proven, the memory, and the delay of a cancellation. The targets are in
/// docs/benchmarks.md. Arguments, in any order: seconds, a size or a week, and the parts to run.
/// </summary>
internal static class WeeksBench
{
    private static readonly string[] All = ["plans", "nights", "growth", "cancel"];

    public static int Run(IReadOnlyList<string> arguments)
    {
        var seconds = arguments.Select(Seconds).FirstOrDefault(given => given is not null);
        var only = arguments.FirstOrDefault(argument => Seconds(argument) is null && !All.Contains(argument));
        // The cancellation uses a week of its own, so it is left out if only some weeks are run.
        string[] parts = [.. All.Where(part => arguments.Contains(part)
            || (!arguments.Any(All.Contains) && (only is null || part != "cancel")))];
        if (only is not null && SelectedWeeks(only).Length == 0
            && !WeekGenerator.Growing.Any(week => WeekGenerator.Size.Of(week.Tasks).Name == only))
        {
            Console.Error.WriteLine($"Unknown week, size or part: {only}. Examples of weeks: medium-8, tasks-100.");
            return 2;
        }
        WarmUp();
        var failed = 0;
        if (parts.Contains("plans")) failed += WeekPlans.Run(TimeSpan.FromSeconds(seconds ?? 60), SelectedWeeks(only));
        if (parts.Contains("nights")) failed += WeekNights.Run(TimeSpan.FromSeconds(seconds ?? 10), SelectedWeeks(only));
        if (parts.Contains("growth")) failed += WeekGrowth.Run(TimeSpan.FromSeconds(seconds ?? 10), only);
        if (parts.Contains("cancel")) WeekCancel.Run();
        return failed == 0 ? 0 : 1;
    }

    public static string NameOf(WeekGenerator.Size size, int seed) => $"{size.Name}-{seed}";

    private static (WeekGenerator.Size Size, int Seed)[] SelectedWeeks(string? only) =>
        [.. WeekGenerator.Fixed.Where(week => only is null || week.Size.Name == only || NameOf(week.Size, week.Seed) == only)];

    private static double? Seconds(string argument) =>
        double.TryParse(argument, CultureInfo.InvariantCulture, out var seconds) ? seconds : null;

    /// <summary>Loads the solver and lets the runtime compile the code, as in a service that has already run.</summary>
    private static void WarmUp() =>
        Planner.Plan(WeekGenerator.Make(WeekGenerator.Size.Small, 1), new SearchLimits { Time = TimeSpan.FromSeconds(1) });
}
