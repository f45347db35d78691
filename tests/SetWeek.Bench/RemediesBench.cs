using SetWeek.Model.Durations;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Bench;

/// <summary>
/// Checks that remedies survive planning. Each fixed week gets a quick plan, and remedies are searched for it. Each remedy that
/// is proposed is applied to the week, which is then planned from nothing with another seed, as a lead would. Prints the chance
/// that was said and the one that was got.
/// </summary>
internal static class RemediesBench
{
    /// <summary>Effort of the plan at hand: little, so that most of them miss the chance asked for.</summary>
    private const double EffortAtHand = 0.5;

    /// <param name="effort">Units of effort for the search of the remedies, and for each plan that tries one.</param>
    /// <param name="only">Part of the ids of the weeks; "" for all.</param>
    /// <param name="chance">The chance to ask for, in percent.</param>
    public static int Run(double effort, string only, int chance)
    {
        foreach (var made in FixedWeeks.All().Where(week => week.Id.Contains(only, StringComparison.Ordinal)))
        {
            var week = made with { Hold = made.Hold with { Chance = chance } };
            var plan = Planner.Plan(week, new SearchLimits { Effort = EffortAtHand, Workers = 1 });
            if (plan.Nights.Count == 0) continue;
            var problem = Problem.Of(week);
            var schedule = PlanConverter.ScheduleOf(problem, plan);
            var options = new RiskOptions();
            var report = RiskSimulation.Of(problem, schedule, options);
            var advice = MitigationSearch.Of(problem, schedule, options, report,
                new SearchLimits { Effort = effort, Workers = 1 });
            var asItIs = Planned(week, effort);
            JsonLines.Print(new
            {
                week = week.Id, atHandPercent = Percent(report.Hold.Holds),
                cost = AllGoals.Of(GoalId.Cost).Measure(problem, schedule),
                replannedSaid = advice.Replanned is { } said ? Percent(said.Holds) : (double?)null,
                replannedGot = Percent(asItIs.Holds), replannedCost = advice.Replanned?.Cost, tried = advice.Tried,
                proposed = advice.Best.Select(remedy =>
                {
                    var got = Planned(remedy.Changes[0].Apply(week), effort);
                    return new
                    {
                        remedy = remedy.Sentence, said = Percent(remedy.Reached.Holds), got = Percent(got.Holds),
                        cost = remedy.Reached.Cost, costGot = got.Cost,
                    };
                }),
                securing = advice.Securing is not { } chain ? null : new
                {
                    secured = Percent(report.Hold.Secured), replanned = Percent(chain.Replanned.Secured),
                    best = chain.Best?.Sentence, reached = chain.Best is { Reached: { } with } ? Percent(with.Secured) : (double?)null,
                },
                others = advice.Others.Where(other => other.PlannedAnew)
                    .Select(other => new { remedy = other.Sentence, reached = Percent(other.Holds) }),
            });
        }
        return 0;
    }

    private static ReplannedWeek Planned(Week week, double effort)
    {
        var plan = Planner.Plan(week, new SearchLimits { Effort = effort, Workers = 1, Seed = 1 });
        if (plan.Status is PlanStatus.Infeasible or PlanStatus.Unknown) return new(new(0, 1), new(0, 1), 0);
        var problem = Problem.Of(week);
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        var chance = HoldChance.Of(problem, schedule);
        return new(chance.Holds, chance.Secured, AllGoals.Of(GoalId.Cost).Measure(problem, schedule));
    }

    private static double Percent(EstimatedProbability probability) =>
        Math.Round(100 * probability.Share, 1, MidpointRounding.AwayFromZero);
}
