using System.Diagnostics;
using SetWeek.Scheduling;

namespace SetWeek.Bench.Contenders;

/// <summary>What a run came to.</summary>
/// <param name="Schedule">Null where nothing was found in time.</param>
/// <param name="Bound">Minutes that no plan is shorter than, as the contender claims.</param>
/// <param name="Proven">It says that there is no shorter plan.</param>
internal sealed record Outcome(Schedule? Schedule, long Bound, bool Proven);

/// <summary>A way of planning a week of one long night: the planner, or one that it is measured against.</summary>
internal sealed record Contender(string Name, Func<Week, Limits, Outcome> Solve)
{
    /// <summary>The whole planner by its only door.</summary>
    public static Contender Planner { get; } = new("planner", (week, limits) =>
    {
        var plan = Scheduling.Planner.Plan(week, limits);
        return plan.Nights.Count == 0 ? new Outcome(null, 0, false)
            : new Outcome(PlanTimes.ScheduleOf(Problem.Of(week), plan), plan.Goals[0].Bound ?? 0,
                plan.Status == PlanStatus.Optimal);
    });

    public static Contender Textbook { get; } =
        new("textbook model", (week, limits) => new TextbookModel(Problem.Of(week)).Solve(limits));

    public static Contender Serial { get; } =
        new("serial scheme", (week, _) => new Outcome(new SerialScheme(Problem.Of(week)).Build(), 0, false));

    public static IReadOnlyList<Contender> All { get; } = [Planner, Textbook, Serial];

    public (Outcome Outcome, double Seconds) Timed(Week week, Limits limits)
    {
        var clock = Stopwatch.StartNew();
        return (Solve(week, limits), clock.Elapsed.TotalSeconds);
    }
}
