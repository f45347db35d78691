using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// A night's roster for the work placed in it: each shift the shortest that holds its work, a keyholder over all of them,
/// and company at every moment, found by trying each keyholder and covering gaps cheapest first.
/// </summary>
internal sealed class Rostering(CompactProblem compact, ShortestShift shortestShift, StaffMatching staffMatching)
{
    private readonly int[] from = new int[compact.People], to = new int[compact.People];
    private readonly int[] bestFrom = new int[compact.People], bestTo = new int[compact.People];
    private readonly int[] publishedFrom = new int[compact.People], publishedTo = new int[compact.People];
    private readonly int[] ownFrom = new int[compact.People], ownTo = new int[compact.People];
    private readonly MinimumStaffing minimumStaffing = new(compact, shortestShift);

    /// <summary>Settles every night touched; false where one cannot be staffed within the rules.</summary>
    public bool TryRoster(PartialSchedule schedule)
    {
        for (var night = 0; night < compact.Nights; night++)
            if ((schedule.ChangedNights & 1u << night) != 0 && !TryRoster(schedule, night)) return false;
        schedule.ChangedNights = 0;
        return true;
    }

    public bool TryRoster(PartialSchedule schedule, int night)
    {
        if (compact.Opens[night] + compact.SlotCounts[night] * compact.SlotMinutes <= compact.Now) return true;
        ResetShifts(schedule, night);
        var work = schedule.WorkSpan(night);
        var manned = false;
        for (var person = 0; person < compact.People && !manned; person++)
            manned = schedule.ShiftFrom[person * compact.Nights + night] >= 0 || SlotSet.First(schedule.BusyRow(person, night)) >= 0;
        if (!manned)
        {
            schedule.Keyholder[night] = -1;
            return true;
        }
        if (!TryLayOwnShifts(schedule, night)) return false;
        var best = double.MaxValue;
        var keyholder = -1;
        if (!compact.KeyholderPresent) TryKeyholder(schedule, night, -1, work, ref best, ref keyholder);
        else
            foreach (var person in compact.Keyholders) TryKeyholder(schedule, night, person, work, ref best, ref keyholder);
        if (best == double.MaxValue) return false;
        schedule.Keyholder[night] = keyholder;
        for (var person = 0; person < compact.People; person++)
            compact.SetShift(schedule, person, night, bestFrom[person], bestTo[person]);
        return true;
    }

    /// <summary>Begun shifts stay; in a re-plan that counts changes, so do published ones that still hold their work.</summary>
    private void ResetShifts(PartialSchedule schedule, int night)
    {
        for (var person = 0; person < compact.People; person++)
        {
            var at = person * compact.Nights + night;
            (publishedFrom[person], publishedTo[person]) = compact.Published.ShiftToKeep(at);
            if (compact.BegunShifts.State(at) == ShiftState.NotBegun) compact.SetShift(schedule, person, night, -1, -1);
            else compact.SetShift(schedule, person, night, compact.BegunShifts.StartSlot(at), compact.BegunShifts.EarliestEndSlot(at));
        }
    }

    private void TryKeyholder(PartialSchedule schedule, int night, int keyholder, (int From, int To) work, ref double best, ref int bestKeyholder)
    {
        var first = work.From < 0 ? int.MaxValue : work.From - compact.OpeningSlots;
        var last = work.To < 0 ? -1 : work.To + compact.ClosingSlots;
        if (keyholder >= 0 && work.From >= 0 && (first < 0 || last > compact.SlotCounts[night])) return;
        for (var round = 0; round < 4; round++)
        {
            if (!TryLayShifts(schedule, night, keyholder, first, last)) return;
            if (!minimumStaffing.TryComplete(schedule, night, keyholder, from, to)) return;
            if (keyholder < 0) break;
            // Whoever came as company, or could only be fitted later, may lie beyond the keyholder: then they stay longer.
            var (earliest, latest) = (from[keyholder], to[keyholder]);
            for (var person = 0; person < compact.People; person++)
                if (from[person] >= 0) (earliest, latest) = (Math.Min(earliest, from[person]), Math.Max(latest, to[person]));
            if (earliest == from[keyholder] && latest == to[keyholder]) break;
            if (round == 3) return;
            (first, last) = (earliest, latest);
        }
        var price = 0.0;
        for (var person = 0; person < compact.People; person++) price += PriceOf(schedule, person);
        if (price >= best) return;
        (best, bestKeyholder) = (price, keyholder);
        from.CopyTo(bestFrom, 0);
        to.CopyTo(bestTo, 0);
    }

    private double PriceOf(PartialSchedule schedule, int person)
    {
        if (from[person] < 0) return publishedFrom[person] < 0 ? 0 : 2 * compact.Published.ChangePrice;
        var price = staffMatching.AddedPay(schedule, person, shortestShift.PaidSlots(person, to[person] - from[person]) * compact.SlotMinutes);
        if (compact.Published.ChangePrice > 0 && (from[person], to[person]) != (publishedFrom[person], publishedTo[person]))
            price += compact.Published.ChangePrice * (publishedFrom[person] < 0 ? 2 : 1);
        return price;
    }

    private bool TryLayShifts(PartialSchedule schedule, int night, int keyholder, int coverFrom, int coverTo)
    {
        Array.Fill(from, -1);
        Array.Fill(to, -1);
        var (inFrom, inTo) = (0, 0);
        if (keyholder >= 0)
        {
            if (!TryLayShifts(schedule, keyholder, night, coverFrom, coverTo, 0, 0)) return false;
            (inFrom, inTo) = (from[keyholder], to[keyholder]);
        }
        for (var person = 0; person < compact.People; person++)
            if (person != keyholder && !TryLayShifts(schedule, person, night, int.MaxValue, -1, inFrom, inTo)) return false;
        return true;
    }

    /// <summary>The shift of each person over their own work where no keyholder bounds it; -1 without work.</summary>
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
                out ownFrom[person], out ownTo[person]))
                return false;
        }
        return true;
    }

    /// <summary>A shift over the person's own work and [first, last) besides; none where there is neither.</summary>
    private bool TryLayShifts(PartialSchedule schedule, int person, int night, int coverFrom, int coverTo, int withinFrom, int withinTo)
    {
        var busy = schedule.BusyRow(person, night);
        var begin = SlotSet.First(busy);
        var begun = compact.BegunShifts.State(person * compact.Nights + night);
        if (begun != ShiftState.NotBegun)
        {
            var at = person * compact.Nights + night;
            (coverFrom, coverTo) = (Math.Min(coverFrom, compact.BegunShifts.StartSlot(at)), Math.Max(coverTo, compact.BegunShifts.StartSlot(at)));
        }
        if (begin >= 0) (coverFrom, coverTo) = (Math.Min(coverFrom, begin), Math.Max(coverTo, SlotSet.Last(busy) + 1));
        if (publishedFrom[person] >= 0 && KeepsPublishedShift(schedule, person, night, coverFrom, coverTo)) return true;
        if (coverTo < 0) return true;
        if (withinTo > withinFrom && ownFrom[person] >= withinFrom && ownTo[person] <= withinTo && ownFrom[person] >= 0)
        {
            (from[person], to[person]) = (ownFrom[person], ownTo[person]);
            return true;
        }
        return shortestShift.TryFind(schedule, person, night, coverFrom, coverTo, withinFrom, withinTo, 0, 0, out from[person], out to[person]);
    }

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
