using System.Diagnostics;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>One run of the planner, looked at as it goes: what stood after how long, and the most memory meanwhile.</summary>
internal sealed class MeasuredRun
{
    private readonly List<SearchProgress> seen = [];

    public MeasuredRun(Week week, TimeSpan time)
    {
        GC.Collect();
        using var process = Process.GetCurrentProcess();
        using (new Timer(_ => SampleMemory(process), null, TimeSpan.Zero, TimeSpan.FromMilliseconds(100)))
            Plan = Planner.Plan(week, new SearchLimits { Time = time, Workers = 2 }, onProgress: seen.Add);
        SampleMemory(process);
        BreachCount = Plan.Nights.Count == 0 ? -1
            : Checker.Check(Problem.Of(week), PlanConverter.ScheduleOf(Problem.Of(week), Plan)).Count;
    }

    public Plan Plan { get; }

    /// <summary>Breaches that the check finds; -1 where there is no plan.</summary>
    public int BreachCount { get; }

    /// <summary>
    /// Of the working set, sampled ten times a second: it holds what earlier runs of the process left behind too.
    /// </summary>
    public long PeakMegabytes { get; private set; }

    public double? FirstPlanMilliseconds => seen.Count == 0 ? null : Math.Round(seen[0].Elapsed.TotalMilliseconds, 1);

    /// <summary>
    /// What stood then in this run. A shorter run shares out its time in another way, and can have more by then.
    /// </summary>
    public Plan? PlanAfter(TimeSpan time) => seen.FindLast(sighting => sighting.Elapsed <= time)?.Best;

    /// <summary>Seconds until a plan and a bound were as this asks, and stayed so; null where they never were.</summary>
    public double? SecondsUntil(Func<Plan, bool> holds)
    {
        var last = seen.FindLastIndex(sighting => !holds(sighting.Best));
        return last + 1 < seen.Count ? Math.Round(seen[last + 1].Elapsed.TotalSeconds, 1) : null;
    }

    /// <summary>Goal by goal: what it is, what is proven, and how much above that it is, of the bound.</summary>
    public static object[] Gaps(Plan plan) => [.. plan.Goals.Select(goal => (object)new
    {
        goal = goal.Goal,
        value = goal.Value,
        bound = goal.Bound,
        gapPercent = GapPercent(goal),
    })];

    /// <summary>0 where the bound is reached; null where nothing above 0 is proven.</summary>
    public static double? GapPercent(GoalValue goal) =>
        goal.Value == (goal.Bound ?? 0) ? 0
        : goal.Bound is > 0 and { } bound ? Math.Round(100.0 * (goal.Value - bound) / bound, 1) : null;

    private void SampleMemory(Process process)
    {
        process.Refresh();
        PeakMegabytes = Math.Max(PeakMegabytes, process.WorkingSet64 / 1_000_000);
    }
}
