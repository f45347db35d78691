using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Certainty;

/// <summary>
/// What certainty costs: plans the same week for several chances to hold, in equal shares of the budget, from the cheapest plan
/// to the surest. Each search starts from the plan before it.
/// </summary>
public static class CertaintySearch
{
    /// <summary>Chances asked for, in percent, beside the week's own.</summary>
    private static readonly int[] UsualChances = [0, 50, 80, 95];

    /// <summary>
    /// Finds up to five plans. There are fewer where one is no surer than a plan that costs as little, and none where no plan is
    /// found; then the offer says why.
    /// </summary>
    /// <param name="week">A valid week.</param>
    /// <param name="limits">Limits of all searches together.</param>
    /// <param name="replan">The published plan and the facts since; null for a first plan.</param>
    /// <param name="stop">Ends the search within 200 ms; the plans found so far are returned.</param>
    public static CertaintyOffer Find(
        Week week, SearchLimits limits, Replan? replan = null, CancellationToken stop = default)
    {
        var (budget, own) = (new Budget(limits, stop), Problem.Of(week, replan));
        int[] chances = [.. UsualChances.Append(week.Hold.Chance).Distinct().Order()];
        var (found, best, impossible) = (new List<(long LeftOut, CertainPlan Plan)>(), (Schedule?)null, false);
        IReadOnlyList<int> missing = [];
        for (var next = 0; next < chances.Length && !budget.Spent && !impossible; next++)
        {
            var problem = Problem.Of(ChanceOverride.Apply(week, chances[next]), replan);
            var incumbent = new Incumbent(problem);
            if (best is not null) incumbent.Offer(best);
            using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var part = new Budget(budget.ChildLimits(budget.Remaining / (chances.Length - next)), ending.Token);
            impossible = Planner.Search(problem, incumbent, part, ending.Cancel);
            budget.Charge(part.Used);
            (best, missing) = (incumbent.Best, incumbent.ClosestAttempt);
            if (best is null) continue;
            var plan = PlanBuilder.FromSchedule(problem, best, incumbent.Values!, incumbent.Bounds());
            var chance = HoldChance.Of(own, best) with { AskedPercent = chances[next] };
            found.Add((AllGoals.Of(GoalId.LeftOut).Measure(own, best), new CertainPlan(chances[next],
                ChanceOverride.WithOwnGoals(own, plan), chance, AllGoals.Of(GoalId.Cost).Measure(own, best))));
        }
        return new CertaintyOffer(Undominated(found),
            best is null ? Planner.WithoutPlan(own, impossible, missing, budget, onProgress: null, stop) : null);
    }

    /// <summary>Without the plans that are no surer than one that costs as little; cheapest first.</summary>
    private static IReadOnlyList<CertainPlan> Undominated(List<(long LeftOut, CertainPlan Plan)> found)
    {
        var kept = new List<CertainPlan>();
        var least = found.Select(one => one.LeftOut).DefaultIfEmpty(0).Min();
        foreach (var plan in found.Where(one => one.LeftOut == least).Select(one => one.Plan)
            .OrderBy(plan => plan.Cost).ThenByDescending(plan => plan.Chance.Holds.Held))
            if (kept.Count == 0 || plan.Chance.Holds.Held > kept[^1].Chance.Holds.Held) kept.Add(plan);
        return kept;
    }
}
