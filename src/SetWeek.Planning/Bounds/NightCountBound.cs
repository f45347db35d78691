using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// Destructive lower bound on the number of nights, one k after another: where the week truncated after its k-th night is
/// infeasible, every plan needs more than k nights. Propagation runs again on the truncated week, because its time windows are
/// narrower. Infeasibility is proven by propagation, by the night master or, for a small week, by the exact model.
/// </summary>
internal sealed class NightCountBound(Problem problem, RootPropagation propagation, Incumbent incumbent, int goal)
{
    /// <param name="caps">Largest value allowed of each goal above this one.</param>
    /// <param name="budget">Is charged for the work done.</param>
    /// <param name="allowance">Seconds, or units of effort, for all values of k together.</param>
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
        // In a re-plan, begun work may lie after the k-th night, so the week is not truncated.
        var isWholeWeek = nights == 0 || problem.Facts is not null;
        var truncated = isWholeWeek ? problem : Problem.Of(TruncatedWeek.AfterNights(problem.Week, problem, nights));
        var truncatedPropagation = isWholeWeek ? propagation : RootPropagation.Of(truncated);
        if (!isWholeWeek && (truncatedPropagation.Infeasible
            || caps.Where((cap, above) => truncatedPropagation.Bound(problem.Goals[above].Goal) > cap).Any())) return true;
        var master = new NightMaster(truncated, truncatedPropagation);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        master.Cap(GoalId.Nights, nights);
        var status = new IntegerModelSolver(master.Model, budget)
            .Minimise(new LinearExpression(), budget.Remaining - budgetEnd, _ => { }, () => BoundReached);
        if (status == SolverStatus.Infeasible) return true;
        return !isWholeWeek && status == SolverStatus.Solved
            && WeekSize.IsSmall(problem) && IsInfeasible(truncated, caps, budget, budgetEnd);
    }

    /// <summary>
    /// The exact model is infeasible, confirmed by a second run with other parameters because solvers have been wrong. A plan
    /// that a run finds is offered to the incumbent.
    /// </summary>
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
