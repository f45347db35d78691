using SetWeek.Model.Durations;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Ruin and recreate (Schrimpf and others 2000; Christiaens and Vanden Berghe 2020): a step removes related activities and
/// inserts them again by the serial scheme. A worse schedule is accepted by the threshold form of the Metropolis rule
/// (Kirkpatrick and others 1983): its cost may exceed the current cost by up to -T ln u, where u is uniform in [0, 1).
/// </summary>
internal sealed class RuinAndRecreate(CompactProblem compact, ActivityInsertion insertion, Rostering rostering,
    SerialInsertion serialInsertion, SplitMix64 random, RuinAndRecreateParameters parameters)
{
    /// <summary>Keeps the logarithm finite.</summary>
    private const double SmallestDraw = 1e-12;

    private readonly PartialSchedule trial = new(compact);
    private readonly int[] order = new int[compact.Stints];
    private readonly double[] keys = new double[compact.Stints];
    private readonly InsertionPrices usualPrices = InsertionPrices.For(compact.Problem);

    /// <summary>The schedule that the next step changes.</summary>
    public PartialSchedule Current { get; } = new(compact);

    /// <summary>Cost of <see cref="Current"/> in the unit of the search, which sets it again if its weights change.</summary>
    public double CurrentCost { get; set; }

    /// <summary>One step. True: its schedule was accepted and is now <see cref="Current"/>.</summary>
    /// <param name="search">Decides what is removed and what a schedule costs.</param>
    /// <param name="temperature">In units of cost; 0 accepts no worse schedule.</param>
    public bool Step(IRuinAndRecreateSearch search, double temperature)
    {
        trial.CopyFrom(Current);
        search.Remove(trial);
        // Shrinks shifts to the remaining work. Otherwise insertion would take the freed time for paid already.
        if (!rostering.TryRoster(trial)) return false;
        DrawInsertion();
        var mayChangeChoices = search.ChangeChoices(trial);
        var count = Order();
        mayChangeChoices = mayChangeChoices || parameters.ChangeChoices > 0 && random.NextBoolean(parameters.ChangeChoices);
        if (!serialInsertion.InsertAll(trial, order.AsSpan(0, count), mayChangeChoices, parameters.AllOrNothing)) return false;
        var limit = CurrentCost - temperature * Math.Log(Math.Max(SmallestDraw, random.NextDouble()));
        if (search.CostWithin(trial, limit) is not { } cost) return false;
        Current.CopyFrom(trial);
        CurrentCost = cost;
        return true;
    }

    private void DrawInsertion()
    {
        insertion.Rule = parameters.EarliestInsertion > 0 && random.NextBoolean(parameters.EarliestInsertion)
            ? InsertionRule.Earliest : InsertionRule.LowestPrice;
        insertion.Prices = parameters.Prices.Draw(usualPrices, compact, random);
    }

    /// <summary>Sorts all stints that are not placed by a priority rule drawn at random; their number.</summary>
    private int Order()
    {
        var rule = parameters.PriorityRules[random.NextBelow(parameters.PriorityRules.Count)];
        var count = 0;
        for (var stint = 0; stint < compact.Stints; stint++)
        {
            // SerialInsertion inserts the final stints after all others.
            if (trial.Night[stint] >= 0 || compact.Activities[stint].IsFinal) continue;
            order[count] = stint;
            keys[count++] = rule.AddNoise(KeyOf(rule.Key, stint), random);
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }

    private double KeyOf(PriorityKey key, int stint) => key switch
    {
        PriorityKey.LatestEnd => compact.Activities[stint].LatestEnd,
        PriorityKey.MostWork => -serialInsertion.WorkContent(stint),
        PriorityKey.TopologicalRank => compact.Activities[stint].TopologicalRank,
        PriorityKey.MissingFirst => Current.Night[stint] < 0 ? 0 : 1,
        PriorityKey.None => 0,
    };
}
