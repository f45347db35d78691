using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Constructs complete plans from nothing by the serial schedule-generation scheme. Each attempt has its own priority rule,
/// insertion rule and noise (sampling: Kolisch 1996).
/// </summary>
internal sealed class PriorityRuleSampling(CompactProblem compact, ActivityInsertion insertion, SerialInsertion serialInsertion,
    SplitMix64 random, ConstructionParameters parameters)
{
    private readonly int[] order = new int[compact.Stints];
    private readonly double[] keys = new double[compact.Stints];
    private readonly bool[] mandatory =
        [.. compact.Activities.Take(compact.Stints).Select(activity => IsMandatory(compact, activity.Display))];
    private readonly InsertionPrices prices = InsertionPrices.For(compact.Problem);

    /// <summary>Constructs the plan of one attempt; true if no stint is missing and every night has a roster.</summary>
    public bool Construct(PartialSchedule schedule, PartialSchedule initial, int attempt)
    {
        schedule.CopyFrom(initial);
        Array.Clear(insertion.ExcludedPeople);
        var noise = attempt < parameters.PlainAttempts ? 0
            : Math.Min(parameters.MaxNoise, parameters.NoiseStep * (attempt - parameters.NoiseOffset));
        for (var stint = 0; stint < compact.Stints; stint++)
        {
            // The first attempt ignores which displays must be placed; the others insert those first.
            var penalty = attempt > 0 && !mandatory[stint] ? Problem.Never : 0;
            order[stint] = stint;
            var priority = PriorityOf(compact.Activities[stint], attempt % 3);
            keys[stint] = priority * (1 + noise * (random.NextDouble() - 0.5)) + penalty;
        }
        keys.AsSpan().Sort(order.AsSpan());
        insertion.Rule = attempt % 2 == 0 ? InsertionRule.Earliest : InsertionRule.LowestPrice;
        insertion.Prices = prices with
        {
            Noise = noise / parameters.PriceNoiseDivisor,
            Versatility = attempt % 4 < 2 ? parameters.HighVersatility : parameters.LowVersatility,
            Change = 0, Displaced = 0, Shuffled = 0, Move = 0, Handover = 0,
        };
        return serialInsertion.InsertAll(schedule, order, mayChangeChoices: true) && serialInsertion.MissingCount == 0;
    }

    /// <summary>
    /// Inserts all missing stints at the lowest price; true if no stint is missing and every night has a roster.
    /// </summary>
    public bool Complete(PartialSchedule schedule)
    {
        for (var stint = 0; stint < compact.Stints; stint++)
            (order[stint], keys[stint]) = (stint, PriorityOf(compact.Activities[stint], 0));
        keys.AsSpan().Sort(order.AsSpan());
        insertion.Rule = InsertionRule.LowestPrice;
        insertion.Prices = prices;
        // Final stints come after all others, so the present ones would leave no room.
        foreach (var final in compact.FinalStints) if (schedule.Night[final] >= 0) schedule.Remove(final);
        for (var zone = 0; zone < compact.Zones; zone++)
            for (var night = 0; night < compact.Nights; night++) insertion.UpdateCleanDown(schedule, zone, night);
        return serialInsertion.InsertAll(schedule, order, mayChangeChoices: true) && serialInsertion.MissingCount == 0;
    }

    /// <summary>
    /// Must the display, or its alternate, be placed? True for mandatory displays and, in a re-plan, for optional ones that have
    /// begun.
    /// </summary>
    private static bool IsMandatory(CompactProblem compact, int display) =>
        !compact.DisplayDecisions.First(decision => decision.Display == display || decision.Alternate == display)
            .OpenChoices.Contains(DisplayDecision.LeftOut);

    /// <summary>Key of one of the three priority rules; the smallest is inserted first.</summary>
    private double PriorityOf(CompactActivity activity, int rule) => rule switch
    {
        0 => activity.LatestEnd,
        1 => activity.LatestEnd - parameters.ScarcityWeight * Scarcity(activity),
        _ => activity.TopologicalRank,
    };

    /// <summary>Person-minutes of the first mode, each divided by the share of the crew that is eligible for it.</summary>
    private double Scarcity(CompactActivity activity) => activity.Modes.Length == 0 ? 0
        : activity.Modes[0].Requirements.Sum(requirement =>
            activity.Modes[0].DurationMinutes * (double)compact.People / Math.Max(1, (int)ulong.PopCount(requirement.Eligible)));
}
