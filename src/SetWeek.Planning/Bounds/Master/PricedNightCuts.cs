using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Rows that nights bring forth when they are solved one by one. The linear programme of the master says what each stint in each
/// night, each person on and each minute of theirs is worth to the rest of the week; the night by itself, exact in its hours,
/// says the least that all of it together can come to there (<see cref="PricingSubproblem"/>). That is a row, and mostly one that the
/// fractions of the master break. It is Dantzig and Wolfe's decomposition seen from its prices: at the end fractions of whole
/// nights are what the master is made of (Geoffrion 1974, from memory).
/// </summary>
internal sealed class PricedNightCuts(Problem problem, RootPropagation propagation)
{
    /// <summary>
    /// So many units of the goal's sum are one of a weight: weights are whole, and rows with huge ones upset the simplex method.
    /// </summary>
    private const double WeightUnit = 1000;

    /// <summary>Rounds after which hardly anything was ever gained.</summary>
    private const int MaxRounds = 6;

    /// <summary>Of the time there is, the share in which one night is looked at once.</summary>
    private const double ShareForOnePass = 0.5;

    /// <summary>A round that gains less of the bound than this is the last.</summary>
    private const double MinRelativeGain = 1e-4;

    private readonly PricingSubproblem[] subproblems = [.. problem.Nights.Select(night => new PricingSubproblem(problem, propagation, night.Index))];
    private readonly List<LinearExpression> cuts = [];

    /// <summary>The rows found so far, given to another master of the same week.</summary>
    public void AddCutsTo(NightMaster master)
    {
        foreach (var row in cuts) master.Model.AddAtMostZero(row);
    }

    /// <summary>Rounds of new rows for a master, until they gain little or the budget is spent. For no re-plan.</summary>
    /// <param name="master">Given every row.</param>
    /// <param name="objective">What is minimised over it.</param>
    /// <param name="budget">What may be used, all of it.</param>
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
                var there = 0.0;
                for (var column = 0; column < weights.Length; column++)
                    if (master.Model.Columns[column].Night == night.Index) there += weights[column] * optimum.Solution[column];
                if (subproblems[night.Index].MinWeightedSum(master, weights, budget, each) is not { } least || least <= there + 1)
                    continue;
                gained += (least - there) * WeightUnit;
                var row = CutOf(master, night.Index, weights, least);
                cuts.Add(row);
                master.Model.AddAtMostZero(row);
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

    /// <summary>What is left of the goal when each row that joins nights has been given its price.</summary>
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
