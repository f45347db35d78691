using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Rows that nights bring forth when they are solved one by one. The linear programme of the master says what each stint in each
/// night, each person on and each minute of theirs is worth to the rest of the week; the night by itself, exact in its hours,
/// says the least that all of it together can come to there (<see cref="NightAlone"/>). That is a row, and mostly one that the
/// fractions of the master break. It is Dantzig and Wolfe's decomposition seen from its prices: at the end fractions of whole
/// nights are what the master is made of (Geoffrion 1974, from memory).
/// </summary>
internal sealed class NightPrices(Problem problem, Certificates known)
{
    /// <summary>
    /// So many units of the goal's sum are one of a weight: weights are whole, and rows with huge ones upset the simplex method.
    /// </summary>
    private const double Unit = 1000;

    /// <summary>Rounds after which hardly anything was ever gained.</summary>
    private const int Rounds = 6;

    /// <summary>Of the time there is, the share in which one night is looked at once.</summary>
    private const double Patience = 0.5;

    /// <summary>A round that gains less of the bound than this is the last.</summary>
    private const double Little = 1e-4;

    private readonly NightAlone[] alone = [.. problem.Nights.Select(night => new NightAlone(problem, known, night.Index))];
    private readonly List<Sum> found = [];

    /// <summary>The rows found so far, given to another master of the same week.</summary>
    public void GiveTo(NightMaster master)
    {
        foreach (var row in found) master.Rows.NotPositive(row);
    }

    /// <summary>Rounds of new rows for a master, until they gain little or the budget is spent. For no re-plan.</summary>
    /// <param name="master">Given every row.</param>
    /// <param name="goal">What is minimised over it.</param>
    /// <param name="budget">What may be used, all of it.</param>
    public void Tighten(NightMaster master, Sum goal, Budget budget)
    {
        var each = budget.Left * Patience / problem.Nights.Count;
        for (var round = 0; round < Rounds && !budget.Spent; round++)
        {
            if (LinearProgramme.Of(master.Rows, goal, budget) is not { } optimum) return;
            var (weights, gained) = (Weights(master, goal, optimum), 0.0);
            foreach (var night in problem.Nights)
            {
                if (budget.Spent) return;
                var there = 0.0;
                for (var column = 0; column < weights.Length; column++)
                    if (master.Rows.Columns[column].Night == night.Index) there += weights[column] * optimum.Columns[column];
                if (alone[night.Index].Least(master, weights, budget, each) is not { } least || least <= there + 1)
                    continue;
                gained += (least - there) * Unit;
                var row = RowOf(master, night.Index, weights, least);
                found.Add(row);
                master.Rows.NotPositive(row);
            }
            if (gained < optimum.Least * Little) return;
        }
    }

    private static Sum RowOf(NightMaster master, int night, long[] weights, long least)
    {
        var row = new Sum().And(least);
        for (var column = 0; column < weights.Length; column++)
            if (master.Rows.Columns[column].Night == night) row.And(column, -weights[column]);
        return row;
    }

    /// <summary>What is left of the goal when each row that joins nights has been given its price.</summary>
    private static long[] Weights(NightMaster master, Sum goal, LinearProgramme.Optimum optimum)
    {
        var weights = new double[master.Rows.Columns.Count];
        foreach (var (column, factor) in goal.Terms) weights[column] += factor;
        for (var row = 0; row < master.Rows.Rows.Count; row++)
        {
            var sum = master.Rows.Rows[row].Sum;
            if (optimum.Prices[row] == 0 || master.Rows.NightOf(sum) is not null) continue;
            foreach (var (column, factor) in sum.Terms) weights[column] -= optimum.Prices[row] * factor;
        }
        return [.. weights.Select(weight => (long)Math.Round(weight / Unit))];
    }
}
