using System.Globalization;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Plans each fixed week without the goal hold and with it, by the same search in the same time. Prints the cost and the chance
/// of both. The chance is measured on scenarios that the search has not seen.
/// </summary>
internal static class HoldBench
{
    private const int FreshRuns = 10_000;
    private const string Effort = "effort:";

    /// <param name="amount">Seconds for each plan, or "effort:8" for units of effort, which do not depend on the machine.</param>
    /// <param name="only">Part of the ids of the weeks to plan; "" for all.</param>
    /// <param name="chances">Chances to ask for, in percent.</param>
    public static int Run(string amount, string only, IReadOnlyList<int> chances)
    {
        var number = double.Parse(amount.Replace(Effort, "", StringComparison.Ordinal), CultureInfo.InvariantCulture);
        var limits = amount.StartsWith(Effort, StringComparison.Ordinal)
            ? new SearchLimits { Effort = number, Workers = 1 } : new SearchLimits { Time = TimeSpan.FromSeconds(number) };
        foreach (var week in FixedWeeks.All().Where(week => week.Id.Contains(only, StringComparison.Ordinal)))
        {
            var without = week with { Goals = [.. week.Goals.Where(choice => choice.Goal != GoalId.Hold)] };
            var before = Measure(without, limits);
            Print(week.Id, "none", before, before.Cost);
            foreach (var chance in chances)
                Print(week.Id, $"{chance} %", Measure(week with { Hold = week.Hold with { Chance = chance } }, limits), before.Cost);
        }
        return 0;
    }

    private static Measured Measure(Week week, SearchLimits limits)
    {
        var plan = Planner.Plan(week, limits);
        var problem = Problem.Of(week);
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        var sample = HeldScenarios.Of(problem, schedule);
        var fresh = HeldScenarios.Of(problem, schedule,
            new RiskOptions { Runs = FreshRuns, Seed = week.Hold.Seed, GraceMinutes = week.Hold.GraceMinutes });
        var cost = plan.Goals.Single(goal => goal.Goal == GoalId.Cost);
        return new(plan.Goals.FirstOrDefault(goal => goal.Goal == GoalId.LeftOut)?.Value ?? 0, cost.Value, cost.Bound ?? 0,
            Percent(sample.Held, sample.Scenarios), Percent(fresh.Held, FreshRuns), Percent(fresh.Secured, FreshRuns));
    }

    private static void Print(string week, string asked, Measured plan, long costBefore) => JsonLines.Print(new
    {
        week, asked, leftOut = plan.LeftOut, samplePercent = plan.Sample, freshPercent = plan.Fresh,
        securedPercent = plan.Secured, cost = plan.Cost,
        costAddedPercent = Math.Round(100.0 * (plan.Cost - costBefore) / costBefore, 1),
        costGapPercent = Math.Round(100.0 * (plan.Cost - plan.Bound) / Math.Max(1, plan.Bound), 1),
    });

    private static double Percent(int part, int all) => Math.Round(100.0 * part / all, 1);

    private sealed record Measured(long LeftOut, long Cost, long Bound, double Sample, double Fresh, double Secured);
}
