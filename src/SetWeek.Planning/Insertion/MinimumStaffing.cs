using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Completes a night's shifts to the minimum staffing, which holds at every moment when anyone is present. A greedy heuristic:
/// each step covers the first shortfall by the extension or the new shift that costs least for the time that it covers.
/// </summary>
internal sealed class MinimumStaffing(CompactProblem compact, ShortestShift shortestShift)
{
    /// <summary>Shifts extended or added before the night counts as impossible to staff.</summary>
    private const int MaxExtensions = 12;

    /// <summary>Price of a slot beyond the keyholder's shift, in mean pay: the keyholder must then stay longer too.</summary>
    private const double BeyondKeyholder = 2;

    private readonly int momentWords = compact.PaddedSlotCount / compact.FeasibleShifts.SlotsPerMoment / 64 + 1;

    /// <summary>By word of moments and by n: moments at which more than n people are present.</summary>
    private readonly ulong[] presence = new ulong[
        (compact.PaddedSlotCount / compact.FeasibleShifts.SlotsPerMoment / 64 + 1) * Math.Max(1, compact.MinPeople)];

    /// <summary>Extends and adds shifts in place; false if a moment cannot be covered.</summary>
    public bool TryComplete(PartialSchedule schedule, int night, int keyholder, int[] from, int[] to)
    {
        if (compact.MinPeople < 2) return true;
        for (var step = 0; step < MaxExtensions; step++)
        {
            var (gapFrom, gapTo) = FirstShortfall(night, from, to);
            if (gapFrom < 0) return true;
            var (cheapest, newFrom, newTo, lowestPrice) = (-1, 0, 0, double.MaxValue);
            var (inFrom, inTo) = keyholder < 0 ? (gapFrom, gapTo) : (from[keyholder], to[keyholder]);
            for (var person = 0; person < compact.People; person++)
            {
                if (from[person] >= 0 && from[person] <= gapFrom && to[person] > gapFrom) continue;
                if (CoveringShift(schedule, person, night, gapFrom, gapTo, inFrom, inTo, from, to) is not { } cover) continue;
                var before = from[person] < 0 ? 0 : shortestShift.PaidSlots(person, to[person] - from[person]);
                var added = shortestShift.PaidSlots(person, cover.To - cover.From) - before;
                var covered = Math.Min(gapTo, cover.To) - Math.Max(gapFrom, cover.From);
                var beyond = keyholder < 0 ? 0 : Math.Max(0, inFrom - cover.From) + Math.Max(0, cover.To - inTo);
                var price = ((double)added * compact.Rates[person] + beyond * BeyondKeyholder * compact.MeanRate) / covered;
                if (from[person] < 0) price += compact.Published.ChangePrice;
                if (price < lowestPrice) (cheapest, newFrom, newTo, lowestPrice) = (person, cover.From, cover.To, price);
            }
            if (cheapest < 0) return false;
            (from[cheapest], to[cheapest]) = (newFrom, newTo);
        }
        return false;
    }

    /// <summary>The person's shortest shift over the whole gap or, failing that, over its beginning; null: none.</summary>
    private (int From, int To)? CoveringShift(PartialSchedule schedule, int person, int night, int gapFrom, int gapTo,
        int withinFrom, int withinTo, int[] from, int[] to)
    {
        for (var end = gapTo; end > gapFrom; end -= Math.Max(compact.FeasibleShifts.SlotsPerMoment, (end - gapFrom) / 2))
        {
            var (first, last) = from[person] < 0 ? (gapFrom, end) : (Math.Min(from[person], gapFrom), Math.Max(to[person], end));
            if (shortestShift.TryFind(schedule, person, night, first, last, withinFrom, withinTo, 0, 0, out var newFrom,
                out var newTo))
                return (newFrom, newTo);
        }
        return null;
    }

    /// <summary>
    /// The first stretch, in slots, in which someone is present but fewer than the minimum; (-1, -1) if there is none. The past
    /// does not count.
    /// </summary>
    private (int From, int To) FirstShortfall(int night, int[] from, int[] to)
    {
        var step = compact.FeasibleShifts.SlotsPerMoment;
        presence.AsSpan().Clear();
        for (var person = 0; person < compact.People; person++)
        {
            if (from[person] < 0) continue;
            var (first, end) = (from[person] / step, (to[person] + step - 1) / step);
            for (var word = first >> 6; word << 6 < end; word++)
            {
                // Carries each moment of the shift to the first level that does not have it yet: a unary counter of people.
                var carry = SlotSet.Mask(word, first, end);
                for (var level = word * compact.MinPeople; level < (word + 1) * compact.MinPeople; level++)
                    (presence[level], carry) = (presence[level] | carry, presence[level] & carry);
            }
        }
        var now = Math.Max(0, compact.SlotAtOrAfter(night, compact.Now)) / step;
        var gapFrom = -1;
        for (var word = now >> 6; word < momentWords; word++)
        {
            var lacking = presence[word * compact.MinPeople] & ~presence[(word + 1) * compact.MinPeople - 1];
            if (word == now >> 6) lacking &= ulong.MaxValue << (now & 63);
            if (gapFrom < 0 && lacking == 0) continue;
            var at = word << 6;
            if (gapFrom < 0)
            {
                gapFrom = at + BitOperations.TrailingZeroCount(lacking);
                lacking |= (1UL << (gapFrom & 63)) - 1;
            }
            if (lacking != ulong.MaxValue) return (gapFrom * step, (at + BitOperations.TrailingZeroCount(~lacking)) * step);
        }
        return gapFrom < 0 ? (-1, -1) : (gapFrom * step, (momentWords << 6) * step);
    }
}
