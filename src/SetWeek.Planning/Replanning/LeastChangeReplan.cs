using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// The re-plan of one week among many, such as after one late lorry: one plan, without options and without the chance that it
/// holds. It asks what the facts force to change, so it ends where no fewer changes are possible.
/// </summary>
public static class LeastChangeReplan
{
    /// <summary>
    /// Finds a plan. If the published plan still keeps every rule, it is the answer without a search. Otherwise the search ends
    /// when it is proven that no plan changes less and has higher goals that are no worse, or at the limits.
    /// </summary>
    /// <param name="week">A valid week.</param>
    /// <param name="limits">When to stop, and what to use.</param>
    /// <param name="replan">The published plan and the facts since.</param>
    /// <param name="onProgress">See <see cref="Planner.Plan"/>.</param>
    /// <param name="stop">Ends the search within 200 ms.</param>
    /// <returns>As <see cref="Planner.Plan"/> does. Goals whose bounds were not computed have the bound 0.</returns>
    public static Plan Find(Week week, SearchLimits limits, Replan replan, Action<SearchProgress>? onProgress = null,
        CancellationToken stop = default)
    {
        var problem = Problem.Of(week, replan);
        if (Unchanged(problem) is { } published) return published;
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop);
        return Planner.Plan(week, limits, replan, found =>
        {
            onProgress?.Invoke(found);
            if (IsLeastChangeProven(problem, found.Best)) ending.Cancel();
        }, ending.Token);
    }

    /// <summary>
    /// The published plan, if it breaks no rule and no plan can change less. Null otherwise, and where a goal above the number of
    /// changes could be improved, except displays left out: those stay left out.
    /// </summary>
    private static Plan? Unchanged(Problem problem)
    {
        var schedule = problem.Facts!.PublishedWithActuals;
        var changes = problem.PositionOf(GoalId.Changes);
        if (changes < 0 || Checker.Check(problem, schedule).Count > 0) return null;
        long[] values = [.. problem.Goals.Select(choice => AllGoals.Of(choice.Goal).Measure(problem, schedule))];
        for (var goal = 0; goal <= changes; goal++)
            if (values[goal] > 0 && problem.Goals[goal].Goal != GoalId.LeftOut) return null;
        return PlanBuilder.FromSchedule(problem, schedule, values, new long[values.Length]) with
        {
            Tight = TightRules.Of(problem, schedule),
        };
    }

    /// <summary>Whether the number of changes, and each goal above it, is within tolerance of its proven bound.</summary>
    internal static bool IsLeastChangeProven(Problem problem, Plan plan)
    {
        var changes = problem.PositionOf(GoalId.Changes);
        return changes >= 0 && plan.Nights.Count > 0 && Enumerable.Range(0, changes + 1).All(goal =>
            plan.Goals[goal].Bound is { } bound && plan.Goals[goal].Value <= problem.Goals[goal].LargestAllowed(bound));
    }
}
