using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Cuts from the priced night subproblems: Lagrangian relaxation of the rows that link nights (Geoffrion 1974, from memory). The
/// dual values of the master's linear relaxation give each column of a night a reduced cost. The subproblem of that night, exact
/// in its times, gives the minimum reduced cost of a night (<see cref="PricingSubproblem"/>). Each minimum is a cut that the
/// fractional master solution usually violates. At convergence the bound equals that of Dantzig-Wolfe decomposition, whose
/// master combines whole nights.
/// </summary>
internal sealed class PricedNightCuts(Problem problem, RootPropagation propagation)
{
    /// <summary>
    /// Units of the goal's sum per unit of a weight. Weights are whole numbers, and huge ones make the simplex method unstable.
    /// </summary>
    private const double WeightUnit = 1000;

    /// <summary>Largest number of rounds. Later rounds hardly gained anything in measurements.</summary>
    private const int MaxRounds = 6;

    /// <summary>Share of the budget for one subproblem of every night.</summary>
    private const double ShareForOnePass = 0.5;

    /// <summary>A round that gains less than this share of the bound is the last.</summary>
    private const double MinRelativeGain = 1e-4;

    private readonly PricingSubproblem[] subproblems =
        [.. problem.Nights.Select(night => new PricingSubproblem(problem, propagation, night.Index))];

    private readonly List<LinearExpression> cuts = [];

    /// <summary>Adds the cuts found so far to a master of the same week.</summary>
    public void AddCutsTo(NightMaster master)
    {
        foreach (var cut in cuts) master.Model.AddAtMostZero(cut);
    }

    /// <summary>
    /// Adds rounds of new cuts to a master until they gain little or the budget is spent. Not for a re-plan.
    /// </summary>
    /// <param name="master">Receives every cut.</param>
    /// <param name="objective">The sum that is minimised over it.</param>
    /// <param name="budget">May be used up.</param>
    public void Tighten(NightMaster master, LinearExpression objective, Budget budget)
    {
        var each = budget.Remaining * ShareForOnePass / problem.Nights.Count;
        for (var round = 0; round < MaxRounds && !budget.Spent; round++)
        {
            if (LpRelaxation.Solve(master.Model, objective, budget) is not { } optimum) return;
            var (weights, gained) = (ReducedCosts(master, objective, optimum), 0.0);
            foreach (var night in problem.Nights)
            {
                if (budget.Spent) return;
                var fractional = 0.0;
                for (var column = 0; column < weights.Length; column++)
                    if (master.Model.Columns[column].Night == night.Index)
                        fractional += weights[column] * optimum.Solution[column];
                if (subproblems[night.Index].MinWeightedSum(master, weights, budget, each) is not { } minimum
                    || minimum <= fractional + 1) continue;
                gained += (minimum - fractional) * WeightUnit;
                var cut = CutOf(master, night.Index, weights, minimum);
                cuts.Add(cut);
                master.Model.AddAtMostZero(cut);
            }
            if (gained < optimum.Value * MinRelativeGain) return;
        }
    }

    private static LinearExpression CutOf(NightMaster master, int night, long[] weights, long minimum)
    {
        var row = new LinearExpression().Add(minimum);
        for (var column = 0; column < weights.Length; column++)
            if (master.Model.Columns[column].Night == night) row.Add(column, -weights[column]);
        return row;
    }

    /// <summary>
    /// By column: its coefficient in the objective less the dual prices of the rows that link nights, in weight units.
    /// </summary>
    private static long[] ReducedCosts(NightMaster master, LinearExpression objective, LpRelaxation.LpOptimum optimum)
    {
        var weights = new double[master.Model.Columns.Count];
        foreach (var (column, factor) in objective.Terms) weights[column] += factor;
        for (var row = 0; row < master.Model.Rows.Count; row++)
        {
            var sum = master.Model.Rows[row].Sum;
            if (optimum.DualValues[row] == 0 || master.Model.NightOf(sum) is not null) continue;
            foreach (var (column, factor) in sum.Terms) weights[column] -= optimum.DualValues[row] * factor;
        }
        return [.. weights.Select(weight => (long)Math.Round(weight / WeightUnit))];
    }
}
