using Google.OrTools.LinearSolver;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Linear;

/// <summary>
/// Minimises a sum over a <see cref="LinearModel"/> with fractional columns, by the simplex method (GLOP). Its results are
/// floating-point numbers: they guide the search for cuts and are never used as bounds.
/// </summary>
internal static class LpRelaxation
{
    /// <param name="Value">Minimum of the sum, approximately.</param>
    /// <param name="Solution">By column: its value in an optimal solution.</param>
    /// <param name="DualValues">By row: growth of the minimum per unit of the row's binding side.</param>
    public sealed record LpOptimum(double Value, double[] Solution, double[] DualValues);

    /// <summary>Simplex iterations that count as one unit of effort.</summary>
    private const double PivotsPerUnit = 20_000;

    /// <summary>Null where the solver was stopped or the model is infeasible.</summary>
    public static LpOptimum? Solve(LinearModel model, LinearExpression expression, Budget budget)
    {
        using var solver = Solver.CreateSolver("GLOP");
        if (!budget.Deterministic) solver.SetTimeLimit((long)Math.Max(1, 1000 * budget.Remaining));
        Variable[] columns = [.. model.Columns.Select(column => solver.MakeNumVar(column.Lower, column.Upper, ""))];
        var rows = new Constraint[model.Rows.Count];
        for (var row = 0; row < rows.Length; row++)
        {
            var (sum, lower, upper) = model.Rows[row];
            rows[row] = solver.MakeConstraint(lower <= LinearModel.NoLowerBound ? double.NegativeInfinity : lower, upper, "");
            foreach (var (column, factor) in sum.Terms) rows[row].SetCoefficient(columns[column], factor);
        }
        var (minimised, objective) = (expression.CollectTerms(), solver.Objective());
        foreach (var (column, factor) in minimised.Terms) objective.SetCoefficient(columns[column], factor);
        objective.SetOffset(minimised.Constant);
        objective.SetMinimization();
        Solver.ResultStatus status;
        using (new SolverStopTimer(() => solver.InterruptSolve(), () => budget.Stop.IsCancellationRequested, budget.Clock))
            status = solver.Solve();
        budget.Charge(solver.Iterations() / PivotsPerUnit);
        return status != Solver.ResultStatus.OPTIMAL ? null : new(objective.Value(),
            [.. columns.Select(column => column.SolutionValue())], [.. rows.Select(row => row.DualValue())]);
    }
}
