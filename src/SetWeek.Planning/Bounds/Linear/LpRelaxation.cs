using Google.OrTools.LinearSolver;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// The least of a sum over a row model whose columns may be fractions, by the simplex method. Its numbers are floating: they
/// say where it pays to look, and nothing is proven by them.
/// </summary>
internal static class LpRelaxation
{
    /// <param name="Value">Of the sum, about.</param>
    /// <param name="Solution">A solution.</param>
    /// <param name="DualValues">By row: how much the least grows for one more on its side that holds.</param>
    public sealed record LpOptimum(double Value, double[] Solution, double[] DualValues);

    /// <summary>Pivots in what counts as one unit of effort.</summary>
    private const double PivotsPerUnit = 20_000;

    /// <summary>Null where it was stopped, or there is no solution.</summary>
    public static LpOptimum? Solve(LinearModel model, LinearExpression expression, Budget budget)
    {
        using var solver = Solver.CreateSolver("GLOP");
        if (!budget.Deterministic) solver.SetTimeLimit((long)Math.Max(1, 1000 * budget.Remaining));
        Variable[] columns = [.. model.Columns.Select(column => solver.MakeNumVar(column.Least, column.Most, ""))];
        var rows = new Constraint[model.Rows.Count];
        for (var row = 0; row < rows.Length; row++)
        {
            var (sum, least, most) = model.Rows[row];
            rows[row] = solver.MakeConstraint(least <= long.MinValue / 4 ? double.NegativeInfinity : least, most, "");
            foreach (var (column, factor) in sum.Terms) rows[row].SetCoefficient(columns[column], factor);
        }
        var (minimised, objective) = (expression.CollectTerms(), solver.Objective());
        foreach (var (column, factor) in minimised.Terms) objective.SetCoefficient(columns[column], factor);
        objective.SetOffset(minimised.Constant);
        objective.SetMinimization();
        var status = SolveUntilStopped(solver, budget);
        budget.Charge(solver.Iterations() / PivotsPerUnit);
        return status != Solver.ResultStatus.OPTIMAL ? null : new(objective.Value(),
            [.. columns.Select(column => column.SolutionValue())], [.. rows.Select(row => row.DualValue())]);
    }

    /// <summary>Solved, or stopped when it is time; nothing asks the solver to stop any more when this returns.</summary>
    private static Solver.ResultStatus SolveUntilStopped(Solver solver, Budget budget)
    {
        using var idle = new ManualResetEvent(false);
        var clock = new Timer(_ => { if (budget.Stop.IsCancellationRequested) solver.InterruptSolve(); }, null, 20, 20);
        try
        {
            return solver.Solve();
        }
        finally
        {
            if (clock.Dispose(idle)) idle.WaitOne();
        }
    }
}
