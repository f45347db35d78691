using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// Rosters a night for the work placed in it. Each person gets the shortest shift that spans their work, a keyholder's shift
/// spans all others, and the minimum staffing is present. It tries each keyholder and completes the staffing greedily.
/// </summary>
internal sealed class Rostering(CompactProblem compact, ShortestShift shortestShift, StaffMatching staffMatching)
{
    /// <summary>Rounds in which the keyholder's shift may grow to span the shifts of others.</summary>
    private const int KeyholderRounds = 4;

    private readonly int[] from = new int[compact.People], to = new int[compact.People];
    private readonly int[] bestFrom = new int[compact.People], bestTo = new int[compact.People];
    private readonly int[] publishedFrom = new int[compact.People], publishedTo = new int[compact.People];
    private readonly int[] ownFrom = new int[compact.People], ownTo = new int[compact.People];
    private readonly MinimumStaffing minimumStaffing = new(compact, shortestShift);

    /// <summary>Rosters every changed night; false if a night cannot be staffed within the rules.</summary>
    public bool TryRoster(PartialSchedule schedule)
    {
        for (var night = 0; night < compact.Nights; night++)
            if ((schedule.ChangedNights & 1u << night) != 0 && !TryRoster(schedule, night)) return false;
        schedule.ChangedNights = 0;
        return true;
    }

    private bool TryRoster(PartialSchedule schedule, int night)
    {
        if (compact.Opens[night] + compact.SlotCounts[night] * compact.SlotMinutes <= compact.Now) return true;
        ResetShifts(schedule, night);
        var work = schedule.WorkSpan(night);
        var isStaffed = false;
        for (var person = 0; person < compact.People && !isStaffed; person++)
            isStaffed = schedule.ShiftFrom[person * compact.Nights + night] >= 0 || PinnedCover(person, night).To >= 0
                || SlotSet.First(schedule.BusyRow(person, night)) >= 0;
        if (!isStaffed)
        {
            schedule.Keyholder[night] = -1;
            return true;
        }
        schedule.Keyholder[night] = -1;
        if (!TryLayOwnShifts(schedule, night)) return false;
        var lowestPrice = double.MaxValue;
        var keyholder = -1;
        if (!compact.KeyholderPresent) TryKeyholder(schedule, night, -1, work, ref lowestPrice, ref keyholder);
        else
            foreach (var person in compact.Keyholders)
                TryKeyholder(schedule, night, person, work, ref lowestPrice, ref keyholder);
        if (lowestPrice == double.MaxValue) return false;
        schedule.Keyholder[night] = keyholder;
        for (var person = 0; person < compact.People; person++)
            compact.SetShift(schedule, person, night, bestFrom[person], bestTo[person]);
        return true;
    }

    /// <summary>
    /// Removes the night's shifts but for begun ones, and looks up the published shifts that should stay in a re-plan that counts
    /// changes.
    /// </summary>
    private void ResetShifts(PartialSchedule schedule, int night)
    {
        for (var person = 0; person < compact.People; person++)
        {
            var at = person * compact.Nights + night;
            (publishedFrom[person], publishedTo[person]) = compact.Published.ShiftToKeep(at);
            var begun = compact.BegunShifts;
            if (begun.State(at) == ShiftState.NotBegun) compact.SetShift(schedule, person, night, -1, -1);
            else compact.SetShift(schedule, person, night, begun.StartSlot(at), begun.EarliestEndSlot(at));
        }
    }

    /// <summary>Rosters the night with one keyholder (-1: none is needed); keeps the cheapest roster so far.</summary>
    private void TryKeyholder(PartialSchedule schedule, int night, int keyholder, (int From, int To) work,
        ref double lowestPrice, ref int bestKeyholder)
    {
        var first = work.From < 0 ? int.MaxValue : work.From - compact.OpeningSlots;
        var last = work.To < 0 ? -1 : work.To + compact.ClosingSlots;
        if (keyholder >= 0 && work.From >= 0 && (first < 0 || last > compact.SlotCounts[night])) return;
        schedule.Keyholder[night] = keyholder;
        for (var round = 0; round < KeyholderRounds; round++)
        {
            if (!TryLayShifts(schedule, night, keyholder, first, last)) return;
            if (!minimumStaffing.TryComplete(schedule, night, keyholder, from, to)) return;
            if (keyholder < 0) break;
            // A shift of another person may reach beyond the keyholder's. Then the keyholder's shift grows.
            var (earliest, latest) = (from[keyholder], to[keyholder]);
            for (var person = 0; person < compact.People; person++)
                if (from[person] >= 0) (earliest, latest) = (Math.Min(earliest, from[person]), Math.Max(latest, to[person]));
            if (earliest == from[keyholder] && latest == to[keyholder]) break;
            if (round == KeyholderRounds - 1) return;
            (first, last) = (earliest, latest);
        }
        if (!BreaksFitAsNamed(schedule, night, keyholder)) return;
        var price = 0.0;
        for (var person = 0; person < compact.People; person++) price += PriceOf(schedule, person);
        if (price >= lowestPrice) return;
        (lowestPrice, bestKeyholder) = (price, keyholder);
        from.CopyTo(bestFrom, 0);
        to.CopyTo(bestTo, 0);
    }

    /// <summary>
    /// Do breaks still fit although the plan names another keyholder, the first in crew order whose shift spans all others?
    /// </summary>
    private bool BreaksFitAsNamed(PartialSchedule schedule, int night, int keyholder)
    {
        if (keyholder < 0 || compact.OpeningSlots + compact.ClosingSlots == 0) return true;
        var named = Array.Find(compact.Keyholders, person => (from[person], to[person]) == (from[keyholder], to[keyholder]));
        if (named == keyholder) return true;
        schedule.Keyholder[night] = named;
        return shortestShift.BreakFits(schedule, named, night, from[named], to[named], 0, 0)
            && shortestShift.BreakFits(schedule, keyholder, night, from[keyholder], to[keyholder], 0, 0);
    }

    /// <summary>Pay of the person's shift and the price of its changes from the published shift.</summary>
    private double PriceOf(PartialSchedule schedule, int person)
    {
        if (from[person] < 0) return publishedFrom[person] < 0 ? 0 : 2 * compact.Published.ChangePrice;
        var minutes = shortestShift.PaidSlots(person, to[person] - from[person]) * compact.SlotMinutes;
        var price = staffMatching.AddedPay(schedule, person, minutes);
        if (compact.Published.ChangePrice > 0 && (from[person], to[person]) != (publishedFrom[person], publishedTo[person]))
            price += compact.Published.ChangePrice * (publishedFrom[person] < 0 ? 2 : 1);
        return price;
    }

    /// <summary>The shortest shifts of all people, the keyholder's over [coverFrom, coverTo) too.</summary>
    private bool TryLayShifts(PartialSchedule schedule, int night, int keyholder, int coverFrom, int coverTo)
    {
        Array.Fill(from, -1);
        Array.Fill(to, -1);
        var (withinFrom, withinTo) = (0, 0);
        if (keyholder >= 0)
        {
            if (!TryLayShift(schedule, keyholder, night, coverFrom, coverTo, 0, 0)) return false;
            (withinFrom, withinTo) = (from[keyholder], to[keyholder]);
        }
        for (var person = 0; person < compact.People; person++)
            if (person != keyholder && !TryLayShift(schedule, person, night, int.MaxValue, -1, withinFrom, withinTo))
                return false;
        return true;
    }

    /// <summary>Each person's shortest shift over their own work; none for people with a begun or published shift.</summary>
    private bool TryLayOwnShifts(PartialSchedule schedule, int night)
    {
        for (var person = 0; person < compact.People; person++)
        {
            var busy = schedule.BusyRow(person, night);
            (ownFrom[person], ownTo[person]) = (-1, -1);
            if (SlotSet.First(busy) is not (>= 0 and var begin) || publishedFrom[person] >= 0
                || compact.BegunShifts.State(person * compact.Nights + night) != ShiftState.NotBegun)
                continue;
            if (!shortestShift.TryFind(schedule, person, night, begin, SlotSet.Last(busy) + 1, 0, 0, 0, 0,
                out ownFrom[person], out ownTo[person])
                && !compact.Keyholders.Contains(person))
                return false;
        }
        return true;
    }

    /// <summary>
    /// Gives a person a shift over their own work and [coverFrom, coverTo), preferably within [withinFrom, withinTo); none if
    /// there is nothing to cover. False if there is no such shift.
    /// </summary>
    private bool TryLayShift(
        PartialSchedule schedule, int person, int night, int coverFrom, int coverTo, int withinFrom, int withinTo)
    {
        var busy = schedule.BusyRow(person, night);
        var begin = SlotSet.First(busy);
        var begun = compact.BegunShifts.State(person * compact.Nights + night);
        if (begun != ShiftState.NotBegun)
        {
            var at = person * compact.Nights + night;
            var start = compact.BegunShifts.StartSlot(at);
            (coverFrom, coverTo) = (Math.Min(coverFrom, start), Math.Max(coverTo, start));
        }
        if (begin >= 0) (coverFrom, coverTo) = (Math.Min(coverFrom, begin), Math.Max(coverTo, SlotSet.Last(busy) + 1));
        if (publishedFrom[person] >= 0 && KeepsPublishedShift(schedule, person, night, coverFrom, coverTo)) return true;
        if (coverTo < 0) (coverFrom, coverTo) = PinnedCover(person, night);
        if (coverTo < 0) return true;
        if (withinTo > withinFrom && ownFrom[person] >= withinFrom && ownTo[person] <= withinTo && ownFrom[person] >= 0)
        {
            (from[person], to[person]) = (ownFrom[person], ownTo[person]);
            return true;
        }
        return shortestShift.TryFind(schedule, person, night, coverFrom, coverTo, withinFrom, withinTo, 0, 0,
            out from[person], out to[person]);
    }

    /// <summary>Slots that a pinned shift covers in any case, where the person has no work; (-1, -1) if none is pinned.</summary>
    private (int From, int To) PinnedCover(int person, int night)
    {
        foreach (var pin in compact.Problem.Pins.Shifts)
        {
            if ((pin.Person, pin.Night) != (person, night) || pin.Off) continue;
            if (pin.From is { } from && from >= compact.Now)
                return (compact.SlotAtOrAfter(night, from), compact.SlotAtOrAfter(night, from) + 1);
            if (pin.To is { } to && to > compact.Now)
                return (compact.SlotAtOrBefore(night, to) - 1, compact.SlotAtOrBefore(night, to));
            var presence = compact.FeasibleShifts.PossiblePresence.AsSpan(compact.RowOffset(person, night),
                compact.WordsPerNight);
            return SlotSet.First(presence) is >= 0 and var first ? (first, first + 1) : (-1, -1);
        }
        return (-1, -1);
    }

    /// <summary>Gives a person the published shift if it still fits and covers [coverFrom, coverTo); true if so.</summary>
    private bool KeepsPublishedShift(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo)
    {
        var (begin, end) = (publishedFrom[person], publishedTo[person]);
        if (coverTo >= 0 && (coverFrom < begin || coverTo > end)) return false;
        if (!shortestShift.TryFind(schedule, person, night, begin, end, 0, 0, 0, 0, out var fitFrom, out var fitTo)
            || (fitFrom, fitTo) != (begin, end))
            return false;
        (from[person], to[person]) = (begin, end);
        return true;
    }
}
