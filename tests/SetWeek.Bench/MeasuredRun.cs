using System.Diagnostics;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>Measures one run of the planner: its plans over time and its peak memory.</summary>
internal sealed class MeasuredRun
{
    private readonly List<SearchProgress> history = [];

    public MeasuredRun(Week week, TimeSpan time)
    {
        GC.Collect();
        using var process = Process.GetCurrentProcess();
        using (new Timer(_ => SampleMemory(process), null, TimeSpan.Zero, TimeSpan.FromMilliseconds(100)))
            Plan = Planner.Plan(week, new SearchLimits { Time = time, Workers = 2 }, onProgress: history.Add);
        SampleMemory(process);
        BreachCount = Plan.Nights.Count == 0 ? -1
            : Checker.Check(Problem.Of(week), PlanConverter.ScheduleOf(Problem.Of(week), Plan)).Count;
    }

    public Plan Plan { get; }

    /// <summary>Number of breaches that the checker finds; -1 if there is no plan.</summary>
    public int BreachCount { get; }

    /// <summary>
    /// The peak working set in megabytes, sampled ten times a second. It includes what earlier runs of the process left behind.
    /// </summary>
    public long PeakMegabytes { get; private set; }

    public double? FirstPlanMilliseconds => history.Count == 0 ? null : Math.Round(history[0].Elapsed.TotalMilliseconds, 1);

    /// <summary>
    /// The best plan of this run at that time. A run with that time limit divides its time differently and may have a better one.
    /// </summary>
    public Plan? PlanAfter(TimeSpan time) => history.FindLast(progress => progress.Elapsed <= time)?.Best;

    /// <summary>Seconds until the best plan meets a condition for the rest of the run; null if it never does.</summary>
    public double? SecondsUntil(Func<Plan, bool> condition)
    {
        var last = history.FindLastIndex(progress => !condition(progress.Best));
        return last + 1 < history.Count ? Math.Round(history[last + 1].Elapsed.TotalSeconds, 1) : null;
    }

    /// <summary>For each goal its value, its bound, and the gap in percent of the bound.</summary>
    public static object[] Gaps(Plan plan) => [.. plan.Goals.Select(goal => (object)new
    {
        goal = goal.Goal,
        value = goal.Value,
        bound = goal.Bound,
        gapPercent = GapPercent(goal),
    })];

    /// <summary>0 if the value equals the bound; null if the bound is 0 or unknown.</summary>
    public static double? GapPercent(GoalValue goal) =>
        goal.Value == (goal.Bound ?? 0) ? 0
        : goal.Bound is > 0 and { } bound ? Math.Round(100.0 * (goal.Value - bound) / bound, 1) : null;

    private void SampleMemory(Process process)
    {
        process.Refresh();
        PeakMegabytes = Math.Max(PeakMegabytes, process.WorkingSet64 / 1_000_000);
    }
}
