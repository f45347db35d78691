using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Finds room for all that is wanted, whatever it costs: ruins what is in the way of a missing stint and puts all back.
/// </summary>
internal sealed class FeasibilitySearch(CompactProblem compact, ActivityInsertion insertion, Rostering rostering, SerialInsertion serialInsertion, SplitMix64 random)
{
    private readonly Ruin ruin = new(compact, insertion, random);
    private readonly PartialSchedule current = new(compact), trial = new(compact);
    private readonly int[] order = new int[compact.Activities.Length];
    private readonly double[] keys = new double[compact.Activities.Length];
    private readonly InsertionPrices prices = InsertionPrices.For(compact.Problem);
    private int missingWork;
    private List<int> missing = [];

    public PartialSchedule Current => current;

    public void StartFrom(PartialSchedule schedule)
    {
        current.CopyFrom(schedule);
        missing = serialInsertion.MissingIn(current);
        missingWork = WorkContent(missing);
    }

    public bool IsComplete => missing.Count == 0;

    /// <summary>One try; true where nothing is missing any more: then <see cref="Current"/> is a plan.</summary>
    public bool Step()
    {
        trial.CopyFrom(current);
        // What comes first is asked for more often: the rest waits for it.
        var lacking = missing[Math.Min(random.NextBelow(missing.Count), random.NextBelow(missing.Count))];
        if (random.NextBoolean(0.7)) ruin.RemoveBlockers(trial, lacking);
        else ruin.Remove(trial, 3 + random.NextBelow(12));
        if (!rostering.TryRoster(trial)) return false;
        insertion.Rule = random.NextBoolean(0.3) ? InsertionRule.Earliest : InsertionRule.LowestPrice;
        insertion.Prices = prices with
        {
            PayFactor = 0.3 * random.NextDouble(), WorkedTime = random.NextDouble(), Versatility = 3 * random.NextDouble(), Noise = 0.3 * random.NextDouble(),
            Change = compact.Published.AllShiftsReleased ? 0 : prices.Change, ReshuffledWork = compact.Published.AllShiftsReleased ? 0 : prices.ReshuffledWork,
        };
        if (!serialInsertion.InsertAll(trial, order.AsSpan(0, Order()), mayChangeChoices: false)) return false;
        if (serialInsertion.MissingWork > missingWork - 4 * Math.Log(Math.Max(1e-9, random.NextDouble()))) return false;
        current.CopyFrom(trial);
        missingWork = serialInsertion.MissingWork;
        missing = serialInsertion.MissingIn(current);
        return missing.Count == 0;
    }

    private int WorkContent(List<int> stints) =>
        stints.Sum(activity => compact.Activities[activity].Modes is [var mode, ..] ? mode.DurationSlots * Math.Max(1, mode.Requirements.Length) : 1);

    private int Order()
    {
        var (count, rule) = (0, random.NextBelow(3));
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (trial.Night[activity] >= 0 || compact.Activities[activity].IsFinal) continue;
            var what = compact.Activities[activity];
            order[count] = activity;
            keys[count++] = rule switch
            {
                0 => what.LatestEnd + 300 * random.NextDouble(),
                1 => (current.Night[activity] < 0 ? 0 : 1) + 0.5 * random.NextDouble(),
                _ => random.NextDouble() - (what.Modes is [var mode, ..] ? mode.DurationSlots * mode.Requirements.Length / 30.0 : 0),
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
