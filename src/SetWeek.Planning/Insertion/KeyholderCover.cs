using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Keeps a keyholder there around a night's work while work is placed, so that a night is never opened in vain.
/// </summary>
internal sealed class KeyholderCover(CompactProblem compact, ShortestShift shortestShift)
{
    /// <summary>
    /// What it adds to have a keyholder, and company for them, around work in these slots; null where nobody can.
    /// </summary>
    public double? PriceOf(PartialSchedule schedule, StaffMatching staffMatching, InsertionPrices prices, int night, int start, int end)
    {
        if (!compact.KeyholderPresent) return 0;
        if (CheapestShift(schedule, night, start, end) is not { } stay) return null;
        var at = stay.Person * compact.Nights + night;
        if (stay.From == schedule.ShiftFrom[at] && stay.To == schedule.ShiftTo[at] && schedule.Keyholder[night] == stay.Person) return 0;
        var before = schedule.ShiftFrom[at] < 0 ? 0 : shortestShift.PaidSlots(stay.Person, schedule.ShiftTo[at] - schedule.ShiftFrom[at]);
        var added = (shortestShift.PaidSlots(stay.Person, stay.To - stay.From) - before) * compact.SlotMinutes;
        var company = Math.Max(0, compact.MinPeople - 1) * (double)added * compact.MeanRate / 2;
        var price = staffMatching.AddedPay(schedule, stay.Person, added) + company;
        return price * prices.PayFactor + (schedule.Keyholder[night] < 0 ? prices.NewNight : 0);
    }

    /// <summary>After work was put there: the keyholder's shift spans it, opening and closing included.</summary>
    public bool TryExtend(PartialSchedule schedule, ShiftTrail trail, int night, int start, int end)
    {
        if (!compact.KeyholderPresent) return true;
        if (CheapestShift(schedule, night, start, end) is not { } stay) return false;
        trail.SetKeyholder(schedule, night, stay.Person);
        trail.SetShift(schedule, stay.Person, night, stay.From, stay.To);
        return true;
    }

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
                (first, last) = (Math.Min(first, work.From - compact.OpeningSlots), Math.Max(last, work.To + compact.ClosingSlots));
        }
        (int Person, int From, int To)? best = null;
        foreach (var person in compact.Keyholders)
        {
            var at = person * compact.Nights + night;
            var (from, to) = schedule.ShiftFrom[at] < 0
                ? (first, last) : (Math.Min(first, schedule.ShiftFrom[at]), Math.Max(last, schedule.ShiftTo[at]));
            if (ShiftOf(schedule, person, night, from, to) is { } stay
                && (best is not { } other
                    || (stay.To - stay.From) * compact.Rates[person] < (other.To - other.From) * compact.Rates[other.Person]))
                best = stay;
        }
        return best;
    }

    private (int Person, int From, int To)? ShiftOf(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo)
    {
        if (coverFrom < 0 || coverTo > compact.SlotCounts[night]) return null;
        return shortestShift.TryFind(schedule, person, night, coverFrom, coverTo, 0, 0, 0, 0, out var from, out var to)
            ? (person, from, to) : null;
    }
}
