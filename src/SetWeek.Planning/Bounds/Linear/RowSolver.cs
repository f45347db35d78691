using Google.OrTools.Sat;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// The least of a sum over a row model, by CP-SAT: whole numbers throughout, so its bound is exact. One worker, with all rows
/// in its linear programme (linearization_level 2): that is where nearly all of the bound comes from. What is left comes from
/// a search that branches from the bound upwards (use_objective_lb_search) rather than for solutions, where nobody asks for these.
/// </summary>
internal sealed class RowSolver(RowModel model, Budget budget, bool forBound = false)
{
    public enum Ending { Solved, Infeasible, Stopped }

    private const string Upwards = "use_objective_lb_search:true";

    private long[]? values;

    /// <summary>What a sum comes to in the best solution found; null where there is none.</summary>
    public long? ValueOf(Sum sum) =>
        values is null ? null : sum.Constant + sum.Terms.Sum(term => term.Factor * values[term.Column]);

    /// <param name="goal">What to minimise.</param>
    /// <param name="most">Seconds, or units of effort.</param>
    /// <param name="bound">Told of every better bound. Called from a foreign thread.</param>
    /// <param name="enough">The solver need not go on. Asked from any thread, now and then and at every bound.</param>
    public Ending Minimise(Sum goal, double most, Action<long> bound, Func<bool> enough)
    {
        if (budget.Spent) return Ending.Stopped;
        var cp = new CpModel();
        IntVar[] columns = [.. model.Columns.Select(column => cp.NewIntVar(column.Least, column.Most, ""))];
        LinearExpr Terms(Sum sum) =>
            LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]), sum.Terms.Select(term => term.Factor));
        foreach (var (sum, least, highest) in model.Rows)
            if (sum.Terms.Count > 0) cp.AddLinearConstraint(Terms(sum), least, highest);
            else if (least > 0 || highest < 0) return Ending.Infeasible;
        var minimised = goal.Gathered();
        cp.Minimize(Terms(minimised));

        var how = $"{budget.SatParameters(most, 1)} linearization_level:2 {(forBound ? Upwards : "")}";
        using var solver = new CpSolver { StringParameters = how };
        void Tell(double value)
        {
            // An exception on the solver's thread would end the process; a bound less is the smaller loss.
            try { bound((long)Math.Ceiling(value - 1e-3) + minimised.Constant); }
            catch (InvalidOperationException) { solver.StopSearch(); }
            if (enough()) solver.StopSearch();
        }
        solver.SetBestBoundCallback(Tell);
        CpSolverStatus status;
        using (new Stopping(solver, () => budget.Stop.IsCancellationRequested || (!budget.Deterministic && enough()))) status =
            solver.Solve(cp);
        if (budget.Deterministic) budget.Use(solver.Response?.DeterministicTime ?? most);
        if (status == CpSolverStatus.Infeasible) return Ending.Infeasible;
        // Stopped before it has begun, it says a bound of 0 that it has not proven; what it has, it has told.
        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible)
        {
            values = [.. columns.Select(column => solver.Value(column))];
            Tell(solver.BestObjectiveBound);
        }
        return status == CpSolverStatus.Optimal || enough() ? Ending.Solved : Ending.Stopped;
    }
}
