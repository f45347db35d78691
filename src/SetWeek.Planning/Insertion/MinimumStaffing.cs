using System.Numerics;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// At least so many people at every moment when anyone is there: where there are fewer, somebody comes earlier, stays longer
/// or comes besides, whichever costs least for the time that it covers.
/// </summary>
internal sealed class MinimumStaffing(CompactProblem compact, ShortestShift shortestShift)
{
    private const int MaxExtensions = 12;

    private readonly int momentWords = compact.PaddedSlotCount / compact.FeasibleShifts.SlotsPerMoment / 64 + 1;
    private readonly ulong[] presence = new ulong[(compact.PaddedSlotCount / compact.FeasibleShifts.SlotsPerMoment / 64 + 1) * Math.Max(1, compact.MinPeople)];

    /// <summary>Lengthens shifts and adds some, in place; false where a moment cannot be covered.</summary>
    public bool TryComplete(PartialSchedule schedule, int night, int keyholder, int[] from, int[] to)
    {
        if (compact.MinPeople < 2) return true;
        for (var step = 0; step < MaxExtensions; step++)
        {
            var (gapFrom, gapTo) = FirstShortfall(night, from, to);
            if (gapFrom < 0) return true;
            var (who, newFrom, newTo, least) = (-1, 0, 0, double.MaxValue);
            var (inFrom, inTo) = keyholder < 0 ? (gapFrom, gapTo) : (from[keyholder], to[keyholder]);
            for (var person = 0; person < compact.People; person++)
            {
                if (from[person] >= 0 && from[person] <= gapFrom && to[person] > gapFrom) continue;
                if (CoveringShift(schedule, person, night, gapFrom, gapTo, inFrom, inTo, from, to) is not { } cover) continue;
                var before = from[person] < 0 ? 0 : shortestShift.PaidSlots(person, to[person] - from[person]);
                var added = shortestShift.PaidSlots(person, cover.To - cover.From) - before;
                var covered = Math.Min(gapTo, cover.To) - Math.Max(gapFrom, cover.From);
                // A shift that ends after the keyholder's draws the keyholder after it.
                var beyond = keyholder < 0 ? 0 : Math.Max(0, inFrom - cover.From) + Math.Max(0, cover.To - inTo);
                var price = ((double)added * compact.Rates[person] + beyond * 2 * compact.MeanRate) / covered;
                if (from[person] < 0) price += compact.Published.ChangePrice;
                if (price < least) (who, newFrom, newTo, least) = (person, cover.From, cover.To, price);
            }
            if (who < 0) return false;
            (from[who], to[who]) = (newFrom, newTo);
        }
        return false;
    }

    /// <summary>The shortest of a shift over the whole gap, or over as much of it from its start as can be.</summary>
    private (int From, int To)? CoveringShift(PartialSchedule schedule, int person, int night, int gapFrom, int gapTo, int withinFrom, int withinTo,
        int[] from, int[] to)
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
    /// The first stretch in which somebody is there and too few are; (-1, -1) where there is none. Time gone by does not
    /// count.
    /// </summary>
    private (int From, int To) FirstShortfall(int night, int[] from, int[] to)
    {
        var step = compact.FeasibleShifts.SlotsPerMoment;
        // By how many at the least are there: sets of moments, each inside the one before.
        presence.AsSpan().Clear();
        for (var person = 0; person < compact.People; person++)
        {
            if (from[person] < 0) continue;
            var (first, end) = (from[person] / step, (to[person] + step - 1) / step);
            for (var word = first >> 6; word << 6 < end; word++)
            {
                var there = SlotSet.Mask(word, first, end);
                for (var level = word * compact.MinPeople; level < (word + 1) * compact.MinPeople; level++)
                    (presence[level], there) = (presence[level] | there, presence[level] & there);
            }
        }
        var now = Math.Max(0, compact.SlotAtOrAfter(night, compact.Now)) / step;
        var found = -1;
        for (var word = now >> 6; word < momentWords; word++)
        {
            var lacking = presence[word * compact.MinPeople] & ~presence[(word + 1) * compact.MinPeople - 1];
            if (word == now >> 6) lacking &= ulong.MaxValue << (now & 63);
            if (found < 0 && lacking == 0) continue;
            var at = word << 6;
            if (found < 0)
            {
                found = at + BitOperations.TrailingZeroCount(lacking);
                lacking |= (1UL << (found & 63)) - 1;
            }
            if (lacking != ulong.MaxValue) return (found * step, (at + BitOperations.TrailingZeroCount(~lacking)) * step);
        }
        return found < 0 ? (-1, -1) : (found * step, (momentWords << 6) * step);
    }
}
