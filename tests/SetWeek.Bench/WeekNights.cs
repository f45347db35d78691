using SetWeek.Model.Weeks;
namespace SetWeek.Bench;

/// <summary>
/// The fixed weeks where, before what they cost, as few nights as can be are wanted: is it proven that no fewer do?
/// </summary>
internal static class WeekNights
{
    public static int Run(TimeSpan time, IReadOnlyList<(WeekGenerator.Size Size, int Seed)> weeks)
    {
        var (missed, proven) = (0, 0);
        foreach (var (size, seed) in weeks)
        {
            var week = WeekGenerator.Make(size, seed) with { Goals = [new(GoalId.LeftOut), new(GoalId.Nights), new(GoalId.Cost)] };
            var run = new MeasuredRun(week, time);
            if (run.BreachCount != 0) missed++;
            var nights = run.Plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.Nights);
            // Fewest of those plans that leave out as little as this one does.
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
                provenAfterSeconds = run.SecondsUntil(plan => plan.Goals.Any(goal => goal.Goal == GoalId.Nights && goal.Value == goal.Bound)),
                all = MeasuredRun.Gaps(run.Plan),
            });
        }
        if (weeks.Count > 0) JsonLines.Print(new { fewestNightsProven = proven, of = weeks.Count });
        return missed;
    }
}
