using SetWeek.Model.Weeks;
namespace SetWeek.Bench;

/// <summary>
/// The fixed weeks with the goals that a week has if it names none: one run each, looked at after 2 and 10 seconds.
/// </summary>
internal static class WeekPlans
{
    public static int Run(TimeSpan time, IReadOnlyList<(WeekGenerator.Size Size, int Seed)> weeks)
    {
        var missed = 0;
        foreach (var (size, seed) in weeks)
        {
            var week = WeekGenerator.Make(size, seed);
            var run = new MeasuredRun(week, time);
            if (run.BreachCount != 0) missed++;
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
                    .Select(after => (after, plan: run.PlanAfter(TimeSpan.FromSeconds(after)))).Where(look => look.plan is not null)
                    .Select(look => new { look.after, goals = MeasuredRun.Gaps(look.plan!) }),
            });
        }
        return missed;
    }
}
