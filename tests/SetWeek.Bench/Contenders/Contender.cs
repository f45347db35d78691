using System.Diagnostics;
using SetWeek.Bench.Contenders.ActivityLists;
using SetWeek.Model.Durations;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Bench.Contenders;

/// <summary>The result of a run.</summary>
/// <param name="Schedule">The best schedule, or null if none was found in time.</param>
/// <param name="Bound">The lower bound on the makespan, in minutes, that the contender claims.</param>
/// <param name="Proven">Whether the contender claims to have proven its schedule optimal.</param>
internal sealed record Outcome(Schedule? Schedule, long Bound, bool Proven);

/// <summary>A method for weeks of one long night: the planner, or a method that it is compared with.</summary>
internal sealed record Contender(string Name, Func<Week, SearchLimits, Outcome> Solve)
{
    /// <summary>The planner as it is used for weeks.</summary>
    public static Contender Planner { get; } = new("planner", (week, limits) =>
    {
        var plan = Planning.Planner.Plan(week, limits);
        return plan.Nights.Count == 0 ? new Outcome(null, 0, false)
            : new Outcome(PlanConverter.ScheduleOf(Problem.Of(week), plan), plan.Goals[0].Bound ?? 0,
                plan.Status == PlanStatus.Optimal);
    });

    public static Contender Textbook { get; } =
        new("textbook model", (week, limits) => new TextbookModel(Problem.Of(week)).Solve(limits));

    public static Contender Serial { get; } =
        new("serial scheme", (week, _) => new Outcome(new SerialScheme(Problem.Of(week)).Build(), 0, false));

    /// <summary>
    /// A genetic algorithm over activity lists with double justification, which the literature compares by the number of
    /// schedules. It handles one long night without rules only, so it is not part of the planner.
    /// </summary>
    /// <param name="schedules">Maximum number of schedules, regardless of time; null: until the time limit.</param>
    public static Contender Lists(long? schedules = null) => new("activity lists", (week, limits) =>
    {
        if (SingleNightProject.Of(Problem.Of(week)) is not { } night) return new Outcome(null, 0, false);
        var search = new ActivityListGeneticSearch(night, new SplitMix64(limits.Seed + 1), schedules ?? long.MaxValue);
        var clock = Stopwatch.StartNew();
        while (schedules is { } limit ? search.Schedules < limit : clock.Elapsed < limits.Time) search.Step();
        return new Outcome(search.BestFinish == int.MaxValue ? null : search.Best, 0, false);
    });

    public static IReadOnlyList<Contender> All { get; } = [Planner, Lists(), Textbook, Serial];

    public (Outcome Outcome, double Seconds) Timed(Week week, SearchLimits limits)
    {
        var clock = Stopwatch.StartNew();
        return (Solve(week, limits), clock.Elapsed.TotalSeconds);
    }
}
