using System.Diagnostics;
using SetWeek.Bench.Contenders.ActivityLists;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Search;

namespace SetWeek.Bench.Contenders;

/// <summary>What a run came to.</summary>
/// <param name="Schedule">Null where nothing was found in time.</param>
/// <param name="Bound">Minutes that no plan is shorter than, as the contender claims.</param>
/// <param name="Proven">It says that there is no shorter plan.</param>
internal sealed record Outcome(Schedule? Schedule, long Bound, bool Proven);

/// <summary>A way of planning a week of one long night: the planner, or one that it is measured against.</summary>
internal sealed record Contender(string Name, Func<Week, SearchLimits, Outcome> Solve)
{
    /// <summary>The whole planner by its only door.</summary>
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
    /// The genetic search over activity lists with double justification: the method that the literature compares by numbers of
    /// schedules. It knows one long night without rules and nothing else, so that it is no part of the planner.
    /// </summary>
    /// <param name="schedules">Whole schedules built at most, whatever time they take; null: until the time is over.</param>
    public static Contender Lists(long? schedules = null) => new("activity lists", (week, limits) =>
    {
        if (SingleNightProject.Of(Problem.Of(week)) is not { } night) return new Outcome(null, 0, false);
        var (search, clock) = (new ActivityListGeneticSearch(night, new SplitMix64(limits.Seed + 1), schedules ?? long.MaxValue), Stopwatch.StartNew());
        while (schedules is { } most ? search.Schedules < most : clock.Elapsed < limits.Time) search.Step();
        return new Outcome(search.BestFinish == int.MaxValue ? null : search.Best, 0, false);
    });

    public static IReadOnlyList<Contender> All { get; } = [Planner, Lists(), Textbook, Serial];

    public (Outcome Outcome, double Seconds) Timed(Week week, SearchLimits limits)
    {
        var clock = Stopwatch.StartNew();
        return (Solve(week, limits), clock.Elapsed.TotalSeconds);
    }
}
