using Google.OrTools.Sat;

namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// The least of a sum over a row model, by CP-SAT: whole numbers throughout, so its bound is exact. One worker, with all rows
/// in its linear programme (linearization_level 2): that is where nearly all of the bound comes from.
/// </summary>
internal sealed class RowSolver(RowModel model, Budget budget)
{
    public enum Ending { Solved, Infeasible, Stopped }

    /// <param name="goal">What to minimise.</param>
    /// <param name="most">Seconds, or units of effort.</param>
    /// <param name="bound">Told of every better bound; answers true where the solver need not go on. Called from a foreign thread.</param>
    /// <param name="found">Told of each solution, as the value that a sum has in it. Called from a foreign thread.</param>
    public Ending Minimise(Sum goal, double most, Func<long, bool> bound, Action<Func<Sum, long>>? found = null)
    {
        if (budget.Spent) return Ending.Stopped;
        var cp = new CpModel();
        IntVar[] columns = [.. model.Columns.Select(column => cp.NewIntVar(column.Least, column.Most, ""))];
        LinearExpr Terms(Sum sum) => LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]), sum.Terms.Select(term => term.Factor));
        foreach (var (sum, least, highest) in model.Rows)
            if (sum.Terms.Count > 0) cp.AddLinearConstraint(Terms(sum), least, highest);
            else if (least > 0 || highest < 0) return Ending.Infeasible;
        var minimised = goal.Gathered();
        cp.Minimize(Terms(minimised));

        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(most, 1)} linearization_level:2" };
        var enough = false;
        void Tell(double value)
        {
            // An exception on the solver's thread would end the process; a bound less is the smaller loss.
            try { enough |= bound((long)Math.Ceiling(value - 1e-3) + minimised.Constant); }
            catch (InvalidOperationException) { enough = true; }
            if (enough) solver.StopSearch();
        }
        solver.SetBestBoundCallback(Tell);
        using var watcher = new Watcher(solution => found?.Invoke(sum =>
            sum.Constant + sum.Terms.Sum(term => term.Factor * solution.Value(columns[term.Column]))));
        CpSolverStatus status;
        using (var stopping = new Stopping(budget.Stop, solver)) status = solver.Solve(cp, watcher);
        if (budget.Deterministic) budget.Use(solver.Response?.DeterministicTime ?? most);
        if (status == CpSolverStatus.Infeasible) return Ending.Infeasible;
        // Stopped before it has begun, it says a bound of 0 that it has not proven; what it has, it has told.
        if (status is CpSolverStatus.Optimal or CpSolverStatus.Feasible) Tell(solver.BestObjectiveBound);
        return status == CpSolverStatus.Optimal || enough ? Ending.Solved : Ending.Stopped;
    }

    private sealed class Watcher(Action<CpSolverSolutionCallback> found) : CpSolverSolutionCallback
    {
        public override void OnSolutionCallback()
        {
            try { found(this); }
            catch (InvalidOperationException) { StopSearch(); }
        }
    }

    /// <summary>Stops a solver when told to, again and again: a stop that comes before it has begun is lost.</summary>
    private sealed class Stopping : IDisposable
    {
        private readonly CancellationTokenRegistration told;
        private readonly CpSolver solver;
        private Timer? again;

        public Stopping(CancellationToken stop, CpSolver solver)
        {
            this.solver = solver;
            told = stop.Register(() => again = new Timer(_ => solver.StopSearch(), null, 0, 20));
        }

        public void Dispose()
        {
            told.Dispose();
            if (again is null) return;
            using var idle = new ManualResetEvent(false);
            if (again.Dispose(idle)) idle.WaitOne();
        }
    }
}
