using System.Globalization;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// The fixed weeks and weeks that grow: how soon a first checked plan stands, how good it is after so many seconds and how far
/// from what is proven, goal by goal, whether the fewest nights are proven, how much memory it takes, and how soon a cancel is
/// obeyed. Targets are those of docs/benchmarks.md. Arguments in any order: seconds, a size or one week, parts; each part can be
/// run alone.
/// </summary>
internal static class WeeksBench
{
    private static readonly string[] All = ["plans", "nights", "growth", "cancel"];

    public static int Run(IReadOnlyList<string> arguments)
    {
        var seconds = arguments.Select(Seconds).FirstOrDefault(given => given is not null);
        var only = arguments.FirstOrDefault(argument => Seconds(argument) is null && !All.Contains(argument));
        // A cancel is tried on a week of its own, so it has no place in a run of some weeks.
        string[] parts = [.. All.Where(part => arguments.Contains(part)
            || (!arguments.Any(All.Contains) && (only is null || part != "cancel")))];
        if (only is not null && Chosen(only).Length == 0
            && !WeekGenerator.Growing.Any(week => WeekGenerator.Size.Of(week.Tasks).Name == only))
        {
            Console.Error.WriteLine($"No such week, size or part: {only}. A week is named as medium-8 is, or as tasks-100.");
            return 2;
        }
        Warm();
        var missed = 0;
        if (parts.Contains("plans")) missed += WeekPlans.Run(TimeSpan.FromSeconds(seconds ?? 60), Chosen(only));
        if (parts.Contains("nights")) missed += WeekNights.Run(TimeSpan.FromSeconds(seconds ?? 10), Chosen(only));
        if (parts.Contains("growth")) missed += WeekGrowth.Run(TimeSpan.FromSeconds(seconds ?? 10), only);
        if (parts.Contains("cancel")) WeekCancel.Run();
        return missed == 0 ? 0 : 1;
    }

    public static string NameOf(WeekGenerator.Size size, int seed) => $"{size.Name}-{seed}";

    private static (WeekGenerator.Size Size, int Seed)[] Chosen(string? only) =>
        [.. WeekGenerator.Fixed.Where(week => only is null || week.Size.Name == only || NameOf(week.Size, week.Seed) == only)];

    private static double? Seconds(string argument) =>
        double.TryParse(argument, CultureInfo.InvariantCulture, out var seconds) ? seconds : null;

    /// <summary>Loads the solver and compiles the paths, which a service has behind it when a request comes.</summary>
    private static void Warm() =>
        Planner.Plan(WeekGenerator.Make(WeekGenerator.Size.Small, 1), new SearchLimits { Time = TimeSpan.FromSeconds(1) });
}
