using Google.OrTools.Sat;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// Minimises a sum over a <see cref="LinearModel"/> with CP-SAT. All coefficients are whole numbers, so its bound is exact. One
/// worker puts all rows into its linear relaxation (linearization_level 2), which gives nearly all of the bound. Where only the
/// bound is wanted, the search branches upwards from the bound (use_objective_lb_search) instead of looking for solutions.
/// </summary>
/// <param name="model">Columns and rows.</param>
/// <param name="budget">Limits the run and is charged for it.</param>
/// <param name="boundOnly">The solution is not needed.</param>
internal sealed class IntegerModelSolver(LinearModel model, Budget budget, bool boundOnly = false)
{
    private const string BranchFromBound = "use_objective_lb_search:true";

    private long[]? values;

    /// <summary>Value of a sum in the best solution found; null where there is no solution.</summary>
    public long? ValueOf(LinearExpression sum) =>
        values is null ? null : sum.Constant + sum.Terms.Sum(term => term.Factor * values[term.Column]);

    /// <param name="expression">The sum to minimise.</param>
    /// <param name="allowance">Seconds, or units of effort.</param>
    /// <param name="onBound">Receives every better lower bound. Called on a thread of the solver.</param>
    /// <param name="isEnough">
    /// True where the solver may stop. Called at every bound and periodically, from any thread.
    /// </param>
    public SolverStatus Minimise(
        LinearExpression expression, double allowance, Action<long> onBound, Func<bool> isEnough)
    {
        if (budget.Spent) return SolverStatus.Stopped;
        var cp = new CpModel();
        IntVar[] columns = [.. model.Columns.Select(column => cp.NewIntVar(column.Lower, column.Upper, ""))];
        LinearExpr Terms(LinearExpression sum) =>
            LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]), sum.Terms.Select(term => term.Factor));
        foreach (var (sum, lower, upper) in model.Rows)
            if (sum.Terms.Count > 0) cp.AddLinearConstraint(Terms(sum), lower, upper);
            else if (lower > 0 || upper < 0) return SolverStatus.Infeasible;
        var minimised = expression.CollectTerms();
        cp.Minimize(Terms(minimised));

        var parameters = $"{budget.SatParameters(allowance, 1)} linearization_level:2 {(boundOnly ? BranchFromBound : "")}";
        using var solver = new CpSolver { StringParameters = parameters };
        var fault = new ThreadFault();
        void Report(double value) => fault.Guard(() =>
        {
            onBound((long)Math.Ceiling(value - 1e-3) + minimised.Constant);
            if (isEnough()) solver.StopSearch();
        }, () => solver.StopSearch());
        solver.SetBestBoundCallback(Report);
        CpSolverStatus status;
        using (new SolverStopTimer(solver,
            () => budget.Stop.IsCancellationRequested || (!budget.Deterministic && isEnough()), budget.Clock))
            status = solver.Solve(cp);
        fault.Rethrow();
        if (budget.Deterministic) budget.Charge(solver.Response?.DeterministicTime ?? allowance);
        if (status == CpSolverStatus.Infeasible) return SolverStatus.Infeasible;
        // A solver stopped before it starts returns an unproven bound of 0. So the final bound counts only with a solution;
        // earlier bounds have arrived through the callback.
        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
        {
            values = [.. columns.Select(column => solver.Value(column))];
            Report(solver.BestObjectiveBound);
        }
        return status == CpSolverStatus.Optimal || isEnough() ? SolverStatus.Solved : SolverStatus.Stopped;
    }
}
