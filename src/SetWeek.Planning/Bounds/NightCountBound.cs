using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// How many nights it takes, asked one by one: is there a plan of the week that is over after its k-th night? All that is known
/// of a week is worked out anew for it: with later nights gone, windows are narrower and what is left is a question of room.
/// Where certificates say no, or the night master has no solution, or, for a small week, the exact model, no plan whose goals
/// above are within their caps does with k nights either.
/// </summary>
internal sealed class NightCountBound(Problem problem, RootPropagation propagation, Incumbent incumbent, int goal)
{
    /// <param name="caps">What the goals above are held to.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="allowance">Seconds, or units of effort, for all questions together.</param>
    public void Raise(long[] caps, Budget budget, double allowance)
    {
        var end = budget.Remaining - allowance;
        for (var nights = (int)incumbent.Bounds()[goal]; !BoundReached && budget.Remaining > end; nights++)
        {
            if (!AreTooFew(nights, caps, budget, end)) return;
            incumbent.RecordBound(caps, nights + 1);
        }
    }

    private bool BoundReached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    private bool AreTooFew(int nights, long[] caps, Budget budget, double budgetEnd)
    {
        // In a re-plan facts may lie after the k-th night, so there the week stays as long as it is.
        var whole = nights == 0 || problem.Facts is not null;
        var shorter = whole ? problem : Problem.Of(TruncatedWeek.AfterNights(problem.Week, problem, nights));
        var certified = whole ? propagation : RootPropagation.Of(shorter);
        if (!whole && (certified.Infeasible
            || caps.Where((cap, above) => certified.Bound(problem.Goals[above].Goal) > cap).Any())) return true;
        var master = new NightMaster(shorter, certified);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        master.Cap(GoalId.Nights, nights);
        var ending = new IntegerModelSolver(master.Model, budget).Minimise(new LinearExpression(), budget.Remaining - budgetEnd, _ => { }, () => BoundReached);
        if (ending == SolverStatus.Infeasible) return true;
        return !whole && ending == SolverStatus.Solved && WeekSize.IsSmall(problem) && IsInfeasible(shorter, caps, budget, budgetEnd);
    }

    /// <summary>The exact model has no plan, asked twice, each time in another way. A plan that it finds is offered.</summary>
    private bool IsInfeasible(Problem truncated, long[] caps, Budget budget, double budgetEnd)
    {
        var model = new CpWeekModel(truncated).With(AllRules.InOrder);
        CpSearch.PostGoalsWithCaps(model, goal, caps);
        if (model.Infeasible) return true;
        var run = new CpRun(model, incumbent, budget);
        return run.Run(budget.Remaining - budgetEnd, 1) == SolverStatus.Infeasible
            && run.Run(budget.Remaining - budgetEnd, 1, "linearization_level:0") == SolverStatus.Infeasible;
    }
}
