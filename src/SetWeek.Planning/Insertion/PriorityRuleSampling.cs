using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Whole plans from nothing: by what must be done soonest, then by other orders and by chance, until one holds.
/// </summary>
internal sealed class PriorityRuleSampling(CompactProblem compact, ActivityInsertion insertion, SerialInsertion serialInsertion,
    SplitMix64 random, ConstructionParameters parameters)
{
    private readonly int[] order = new int[compact.Stints];
    private readonly double[] keys = new double[compact.Stints];
    private readonly bool[] musts = [.. compact.Activities.Take(compact.Stints).Select(activity => ContainsMust(compact, activity.Display))];
    private readonly InsertionPrices prices = InsertionPrices.For(compact.Problem);

    /// <summary>Builds the plan of one attempt into a draft; true where nothing is missing and the roster is settled.</summary>
    public bool Construct(PartialSchedule schedule, PartialSchedule initial, int attempt)
    {
        schedule.CopyFrom(initial);
        Array.Clear(insertion.ExcludedPeople);
        var noise = attempt < parameters.PlainAttempts ? 0
            : Math.Min(parameters.MaxNoise, parameters.NoiseStep * (attempt - parameters.NoiseOffset));
        for (var activity = 0; activity < compact.Stints; activity++) 
        {
            var later = attempt > 0 && !musts[activity] ? Problem.Never : 0;
            (order[activity], keys[activity]) = (activity, PriorityOf(compact.Activities[activity], attempt % 3) * (1 + noise * (random.NextDouble() - 0.5)) + later);
        }
        keys.AsSpan().Sort(order.AsSpan());
        insertion.Rule = attempt % 2 == 0 ? InsertionRule.Earliest : InsertionRule.LowestPrice;
        insertion.Prices = prices with
        {
            Noise = noise / parameters.PriceNoiseDivisor,
            Versatility = attempt % 4 < 2 ? parameters.HighVersatility : parameters.LowVersatility,
            Change = 0, ReshuffledWork = 0,
        };
        return serialInsertion.InsertAll(schedule, order, mayChangeChoices: true) && serialInsertion.MissingCount == 0;
    }

    /// <summary>
    /// Places what a draft lacks where it disturbs least; true where nothing is missing and the roster is settled.
    /// </summary>
    public bool Complete(PartialSchedule schedule)
    {
        for (var activity = 0; activity < compact.Stints; activity++) (order[activity], keys[activity]) = (activity, PriorityOf(compact.Activities[activity], 0));
        keys.AsSpan().Sort(order.AsSpan());
        insertion.Rule = InsertionRule.LowestPrice;
        insertion.Prices = prices;
        // What comes after all else would leave no room after it.
        foreach (var final in compact.FinalStints) if (schedule.Night[final] >= 0) schedule.Remove(final);
        for (var zone = 0; zone < compact.Zones; zone++)
            for (var night = 0; night < compact.Nights; night++) insertion.UpdateCleanDown(schedule, zone, night);
        return serialInsertion.InsertAll(schedule, order, mayChangeChoices: true) && serialInsertion.MissingCount == 0;
    }

    /// <summary>
    /// The first attempt takes all as it comes; the others see to what may not be left out, and to what may stand for it, before
    /// the rest: to musts, and in a re-plan to wants that have begun.
    /// </summary>
    private static bool ContainsMust(CompactProblem compact, int display) =>
        !compact.DisplayDecisions.First(option => option.Display == display || option.Alternate == display)
            .OpenChoices.Contains(DisplayDecision.LeftOut);

    private double PriorityOf(CompactActivity activity, int rule) => rule switch
    {
        0 => activity.LatestEnd,
        1 => activity.LatestEnd - parameters.ScarcityWeight * Scarcity(activity),
        _ => activity.TopologicalRank,
    };

    /// <summary>Minutes that few can give count more.</summary>
    private double Scarcity(CompactActivity activity) => activity.Modes.Length == 0 ? 0
        : activity.Modes[0].Requirements.Sum(requirement =>
            activity.Modes[0].DurationMinutes * (double)compact.People / Math.Max(1, (int)ulong.PopCount(requirement.Eligible)));
}
