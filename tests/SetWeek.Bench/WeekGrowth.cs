using SetWeek.Model.Weeks;
namespace SetWeek.Bench;

/// <summary>Weeks from 25 to 500 tasks, crew, nights and zones in proportion: one run each, smallest first.</summary>
internal static class WeekGrowth
{
    public static int Run(TimeSpan time, string? only)
    {
        var missed = 0;
        foreach (var (tasks, seed) in WeekGenerator.Growing)
        {
            var size = WeekGenerator.Size.Of(tasks);
            if (only is not null && size.Name != only) continue;
            var week = WeekGenerator.Make(size, seed);
            var run = new MeasuredRun(week, time);
            if (run.BreachCount != 0) missed++;
            var cost = run.Plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.Cost);
            JsonLines.Print(new
            {
                week = WeeksBench.NameOf(size, seed),
                tasks,
                people = size.People,
                nights = size.Nights,
                loadPercent = Math.Round(100 * WeekGenerator.LoadOf(week)),
                broken = run.BreachCount,
                firstPlanMilliseconds = run.FirstPlanMilliseconds,
                seconds = time.TotalSeconds,
                leftOut = run.Plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.LeftOut)?.Value,
                cost = cost?.Value,
                costBound = cost?.Bound,
                gapPercent = cost is null ? null : MeasuredRun.GapPercent(cost),
                megabytes = run.PeakMegabytes,
            });
        }
        return missed;
    }
}
