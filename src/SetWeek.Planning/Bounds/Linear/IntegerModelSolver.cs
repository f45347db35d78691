using Google.OrTools.Sat;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// The least of a sum over a row model, by CP-SAT: whole numbers throughout, so its bound is exact. One worker, with all rows
/// in its linear programme (linearization_level 2): that is where nearly all of the bound comes from. What is left comes from
/// a search that branches from the bound upwards (use_objective_lb_search) rather than for solutions, where nobody asks for these.
/// </summary>
internal sealed class IntegerModelSolver(LinearModel model, Budget budget, bool boundOnly = false)
{
    private const string BranchFromBound = "use_objective_lb_search:true";

    private long[]? values;

    /// <summary>What a sum comes to in the best solution found; null where there is none.</summary>
    public long? ValueOf(LinearExpression sum) =>
        values is null ? null : sum.Constant + sum.Terms.Sum(term => term.Factor * values[term.Column]);

    /// <param name="expression">What to minimise.</param>
    /// <param name="allowance">Seconds, or units of effort.</param>
    /// <param name="onBound">Told of every better bound. Called from a foreign thread.</param>
    /// <param name="isEnough">The solver need not go on. Asked from any thread, now and then and at every bound.</param>
    public SolverStatus Minimise(LinearExpression expression, double allowance, Action<long> onBound, Func<bool> isEnough)
    {
        if (budget.Spent) return SolverStatus.Stopped;
        var cp = new CpModel();
        IntVar[] columns = [.. model.Columns.Select(column => cp.NewIntVar(column.Least, column.Most, ""))];
        LinearExpr Terms(LinearExpression sum) =>
            LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]), sum.Terms.Select(term => term.Factor));
        foreach (var (sum, least, highest) in model.Rows)
            if (sum.Terms.Count > 0) cp.AddLinearConstraint(Terms(sum), least, highest);
            else if (least > 0 || highest < 0) return SolverStatus.Infeasible;
        var minimised = expression.CollectTerms();
        cp.Minimize(Terms(minimised));

        var how = $"{budget.SatParameters(allowance, 1)} linearization_level:2 {(boundOnly ? BranchFromBound : "")}";
        using var solver = new CpSolver { StringParameters = how };
        void Tell(double value)
        {
            // An exception on the solver's thread would end the process; a bound less is the smaller loss.
            try { onBound((long)Math.Ceiling(value - 1e-3) + minimised.Constant); }
            catch (InvalidOperationException) { solver.StopSearch(); }
            if (isEnough()) solver.StopSearch();
        }
        solver.SetBestBoundCallback(Tell);
        CpSolverStatus status;
        using (new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested || (!budget.Deterministic && isEnough()))) status =
            solver.Solve(cp);
        if (budget.Deterministic) budget.Charge(solver.Response?.DeterministicTime ?? allowance);
        if (status == CpSolverStatus.Infeasible) return SolverStatus.Infeasible;
        // Stopped before it has begun, it says a bound of 0 that it has not proven; what it has, it has told.
        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
        {
            values = [.. columns.Select(column => solver.Value(column))];
            Tell(solver.BestObjectiveBound);
        }
        return status == CpSolverStatus.Optimal || isEnough() ? SolverStatus.Solved : SolverStatus.Stopped;
    }
}
