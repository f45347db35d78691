using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Runs the fixed weeks with the default goals, once each, and reports the plans after 2, 10 and 30 seconds too.
/// </summary>
internal static class WeekPlans
{
    public static int Run(TimeSpan time, IReadOnlyList<(WeekGenerator.Size Size, int Seed)> weeks)
    {
        var failed = 0;
        foreach (var (size, seed) in weeks)
        {
            var week = WeekGenerator.Make(size, seed);
            var run = new MeasuredRun(week, time);
            if (run.BreachCount != 0) failed++;
            var cost = run.Plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.Cost);
            JsonLines.Print(new
            {
                week = week.Id,
                loadPercent = Math.Round(100 * WeekGenerator.LoadOf(week)),
                status = run.Plan.Status.ToString(),
                broken = run.BreachCount,
                firstPlanMilliseconds = run.FirstPlanMilliseconds,
                seconds = time.TotalSeconds,
                cost = cost?.Value,
                costBound = cost?.Bound,
                gapPercent = cost is null ? null : MeasuredRun.GapPercent(cost),
                megabytes = run.PeakMegabytes,
                goals = MeasuredRun.Gaps(run.Plan),
                along = new[] { 2, 10, 30 }.Where(after => after < time.TotalSeconds)
                    .Select(after => (after, plan: run.PlanAfter(TimeSpan.FromSeconds(after))))
                    .Where(snapshot => snapshot.plan is not null)
                    .Select(snapshot => new { snapshot.after, goals = MeasuredRun.Gaps(snapshot.plan!) }),
            });
        }
        return failed;
    }
}
