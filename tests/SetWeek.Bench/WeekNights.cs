using SetWeek.Model.Weeks;

namespace SetWeek.Bench;

/// <summary>
/// Runs the fixed weeks with the goal "nights" before "cost", and reports whether the minimum number of nights is proven.
/// </summary>
internal static class WeekNights
{
    public static int Run(TimeSpan time, IReadOnlyList<(WeekGenerator.Size Size, int Seed)> weeks)
    {
        var (failed, proven) = (0, 0);
        foreach (var (size, seed) in weeks)
        {
            var week = WeekGenerator.Make(size, seed) with { Goals =
                [new(GoalId.LeftOut), new(GoalId.Nights), new(GoalId.Cost)] };
            var run = new MeasuredRun(week, time);
            if (run.BreachCount != 0) failed++;
            var nights = run.Plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.Nights);
            // Proven minimal among plans that leave out no more than this one.
            if (nights is not null && nights.Value == nights.Bound) proven++;
            JsonLines.Print(new
            {
                week = week.Id,
                goals = "leftOut, nights, cost",
                seconds = time.TotalSeconds,
                broken = run.BreachCount,
                nights = nights?.Value,
                bound = nights?.Bound,
                fewestProven = nights is not null && nights.Value == nights.Bound,
                provenAfterSeconds = run.SecondsUntil(plan =>
                    plan.Goals.Any(goal => goal.Goal == GoalId.Nights && goal.Value == goal.Bound)),
                all = MeasuredRun.Gaps(run.Plan),
            });
        }
        if (weeks.Count > 0) JsonLines.Print(new { fewestNightsProven = proven, of = weeks.Count });
        return failed;
    }
}
