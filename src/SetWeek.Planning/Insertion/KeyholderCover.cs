using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Keeps a keyholder on shift around a night's work during insertion. Otherwise work could be inserted into a night that no
/// keyholder can open.
/// </summary>
internal sealed class KeyholderCover(CompactProblem compact, ShortestShift shortestShift)
{
    /// <summary>Expected price of each further person beside the keyholder, as a share of mean pay.</summary>
    private const double SecondPersonShare = 0.5;

    /// <summary>
    /// Price of a keyholder, and of further people up to the minimum staffing, around work in these slots; null if no keyholder
    /// can be there.
    /// </summary>
    public double? PriceOf(
        PartialSchedule schedule, StaffMatching staffMatching, InsertionPrices prices, int night, int start, int end)
    {
        if (!compact.KeyholderPresent) return 0;
        if (CheapestShift(schedule, night, start, end) is not { } shift) return null;
        var at = shift.Person * compact.Nights + night;
        var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
        if (shift.From == from && shift.To == to && schedule.Keyholder[night] == shift.Person) return 0;
        var before = from < 0 ? 0 : shortestShift.PaidSlots(shift.Person, to - from);
        var added = (shortestShift.PaidSlots(shift.Person, shift.To - shift.From) - before) * compact.SlotMinutes;
        var furtherPeople = Math.Max(0, compact.MinPeople - 1) * (double)added * compact.MeanRate * SecondPersonShare;
        var price = staffMatching.AddedPay(schedule, shift.Person, added) + furtherPeople;
        return price * prices.PayFactor + (schedule.Keyholder[night] < 0 ? prices.NewNight : 0);
    }

    /// <summary>
    /// Extends the keyholder's shift, or gives one to a keyholder, so that it spans work in these slots, opening and closing
    /// included. False if no keyholder can have such a shift.
    /// </summary>
    public bool TryExtend(PartialSchedule schedule, ShiftTrail trail, int night, int start, int end)
    {
        if (!compact.KeyholderPresent) return true;
        if (CheapestShift(schedule, night, start, end) is not { } shift) return false;
        trail.SetKeyholder(schedule, night, shift.Person);
        trail.SetShift(schedule, shift.Person, night, shift.From, shift.To);
        return true;
    }

    /// <summary>The present keyholder's shift, extended if needed; otherwise the cheapest shift of any keyholder.</summary>
    private (int Person, int From, int To)? CheapestShift(PartialSchedule schedule, int night, int start, int end)
    {
        var (first, last) = (start - compact.OpeningSlots, end + compact.ClosingSlots);
        if (schedule.Keyholder[night] is >= 0 and var keyholder)
        {
            var at = keyholder * compact.Nights + night;
            var (from, to) = (schedule.ShiftFrom[at], schedule.ShiftTo[at]);
            if (from <= first && last <= to) return (keyholder, from, to);
            if (ShiftOf(schedule, keyholder, night, Math.Min(from, first), Math.Max(to, last)) is { } longer) return longer;
            var work = schedule.WorkSpan(night);
            if (work.From >= 0)
            {
                first = Math.Min(first, work.From - compact.OpeningSlots);
                last = Math.Max(last, work.To + compact.ClosingSlots);
            }
        }
        (int Person, int From, int To)? best = null;
        foreach (var person in compact.Keyholders)
        {
            var at = person * compact.Nights + night;
            var (from, to) = schedule.ShiftFrom[at] < 0
                ? (first, last) : (Math.Min(first, schedule.ShiftFrom[at]), Math.Max(last, schedule.ShiftTo[at]));
            if (ShiftOf(schedule, person, night, from, to) is { } shift
                && (best is not { } cheapest
                    || (shift.To - shift.From) * compact.Rates[person]
                        < (cheapest.To - cheapest.From) * compact.Rates[cheapest.Person]))
                best = shift;
        }
        return best;
    }

    private (int Person, int From, int To)? ShiftOf(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo)
    {
        if (coverFrom < 0 || coverTo > compact.SlotCounts[night]) return null;
        // The break of whoever opens and closes the store lies between the two.
        var keyholder = schedule.Keyholder[night];
        schedule.Keyholder[night] = person;
        var isFound = shortestShift.TryFind(
            schedule, person, night, coverFrom, coverTo, 0, 0, 0, 0, out var from, out var to);
        schedule.Keyholder[night] = keyholder;
        return isFound ? (person, from, to) : null;
    }
}
