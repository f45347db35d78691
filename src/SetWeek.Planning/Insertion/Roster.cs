using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>
/// A night's roster for the work placed in it: each shift the shortest that holds its work, a keyholder over all of them,
/// and company at every moment, found by trying each keyholder and covering gaps cheapest first.
/// </summary>
internal sealed class Roster(Image image, PersonNight personNight, Crewing crewing)
{
    private readonly int[] from = new int[image.People], to = new int[image.People];
    private readonly int[] bestFrom = new int[image.People], bestTo = new int[image.People];
    private readonly int[] heldFrom = new int[image.People], heldTo = new int[image.People];
    private readonly int[] ownFrom = new int[image.People], ownTo = new int[image.People];
    private readonly Company company = new(image, personNight);

    /// <summary>Settles every night touched; false where one cannot be staffed within the rules.</summary>
    public bool Settle(Draft draft)
    {
        for (var night = 0; night < image.Nights; night++)
            if ((draft.Touched & 1u << night) != 0 && !Settle(draft, night)) return false;
        draft.Touched = 0;
        return true;
    }

    public bool Settle(Draft draft, int night)
    {
        if (image.Opens[night] + image.SlotCounts[night] * image.Grid <= image.Now) return true;
        Release(draft, night);
        var work = draft.WorkOf(night);
        var manned = false;
        for (var person = 0; person < image.People && !manned; person++)
            manned = draft.ShiftFrom[person * image.Nights + night] >= 0 || Slots.First(draft.BusyRow(person, night)) >= 0;
        if (!manned)
        {
            draft.Keyholder[night] = -1;
            return true;
        }
        if (!LayOwn(draft, night)) return false;
        var best = double.MaxValue;
        var keyholder = -1;
        if (!image.KeyholderPresent) Try(draft, night, -1, work, ref best, ref keyholder);
        else
            foreach (var person in image.Keyholders) Try(draft, night, person, work, ref best, ref keyholder);
        if (best == double.MaxValue) return false;
        draft.Keyholder[night] = keyholder;
        for (var person = 0; person < image.People; person++)
            image.SetShift(draft, person, night, bestFrom[person], bestTo[person]);
        return true;
    }

    /// <summary>Begun shifts stay; in a re-plan that counts changes, so do published ones that still hold their work.</summary>
    private void Release(Draft draft, int night)
    {
        for (var person = 0; person < image.People; person++)
        {
            var at = person * image.Nights + night;
            (heldFrom[person], heldTo[person]) = image.Publication.Held(at);
            if (image.Begun.Kind(at) == ShiftKind.Open) image.SetShift(draft, person, night, -1, -1);
            else image.SetShift(draft, person, night, image.Begun.From(at), image.Begun.To(at));
        }
    }

    private void Try(Draft draft, int night, int keyholder, (int From, int To) work, ref double best, ref int bestKeyholder)
    {
        var first = work.From < 0 ? int.MaxValue : work.From - image.Opening;
        var last = work.To < 0 ? -1 : work.To + image.Closing;
        if (keyholder >= 0 && work.From >= 0 && (first < 0 || last > image.SlotCounts[night])) return;
        for (var round = 0; round < 4; round++)
        {
            if (!Lay(draft, night, keyholder, first, last)) return;
            if (!company.Complete(draft, night, keyholder, from, to)) return;
            if (keyholder < 0) break;
            // Whoever came as company, or could only be fitted later, may lie beyond the keyholder: then they stay longer.
            var (earliest, latest) = (from[keyholder], to[keyholder]);
            for (var person = 0; person < image.People; person++)
                if (from[person] >= 0) (earliest, latest) = (Math.Min(earliest, from[person]), Math.Max(latest, to[person]));
            if (earliest == from[keyholder] && latest == to[keyholder]) break;
            if (round == 3) return;
            (first, last) = (earliest, latest);
        }
        var price = 0.0;
        for (var person = 0; person < image.People; person++) price += Price(draft, person);
        if (price >= best) return;
        (best, bestKeyholder) = (price, keyholder);
        from.CopyTo(bestFrom, 0);
        to.CopyTo(bestTo, 0);
    }

    private double Price(Draft draft, int person)
    {
        if (from[person] < 0) return heldFrom[person] < 0 ? 0 : 2 * image.Publication.Price;
        var price = crewing.Pay(draft, person, personNight.PaidSlots(person, to[person] - from[person]) * image.Grid);
        if (image.Publication.Price > 0 && (from[person], to[person]) != (heldFrom[person], heldTo[person]))
            price += image.Publication.Price * (heldFrom[person] < 0 ? 2 : 1);
        return price;
    }

    private bool Lay(Draft draft, int night, int keyholder, int first, int last)
    {
        Array.Fill(from, -1);
        Array.Fill(to, -1);
        var (inFrom, inTo) = (0, 0);
        if (keyholder >= 0)
        {
            if (!Lay(draft, keyholder, night, first, last, 0, 0)) return false;
            (inFrom, inTo) = (from[keyholder], to[keyholder]);
        }
        for (var person = 0; person < image.People; person++)
            if (person != keyholder && !Lay(draft, person, night, int.MaxValue, -1, inFrom, inTo)) return false;
        return true;
    }

    /// <summary>The shift of each person over their own work where no keyholder bounds it; -1 without work.</summary>
    private bool LayOwn(Draft draft, int night)
    {
        for (var person = 0; person < image.People; person++)
        {
            var busy = draft.BusyRow(person, night);
            (ownFrom[person], ownTo[person]) = (-1, -1);
            if (Slots.First(busy) is not (>= 0 and var begin) || heldFrom[person] >= 0
                || image.Begun.Kind(person * image.Nights + night) != ShiftKind.Open)
                continue;
            if (!personNight.Fit(draft, person, night, begin, Slots.Last(busy) + 1, 0, 0, 0, 0,
                out ownFrom[person], out ownTo[person]))
                return false;
        }
        return true;
    }

    /// <summary>A shift over the person's own work and [first, last) besides; none where there is neither.</summary>
    private bool Lay(Draft draft, int person, int night, int first, int last, int inFrom, int inTo)
    {
        var busy = draft.BusyRow(person, night);
        var begin = Slots.First(busy);
        var begun = image.Begun.Kind(person * image.Nights + night);
        if (begun != ShiftKind.Open)
        {
            var at = person * image.Nights + night;
            (first, last) = (Math.Min(first, image.Begun.From(at)), Math.Max(last, image.Begun.From(at)));
        }
        if (begin >= 0) (first, last) = (Math.Min(first, begin), Math.Max(last, Slots.Last(busy) + 1));
        if (heldFrom[person] >= 0 && Holds(draft, person, night, first, last)) return true;
        if (last < 0) return true;
        if (inTo > inFrom && ownFrom[person] >= inFrom && ownTo[person] <= inTo && ownFrom[person] >= 0)
        {
            (from[person], to[person]) = (ownFrom[person], ownTo[person]);
            return true;
        }
        return personNight.Fit(draft, person, night, first, last, inFrom, inTo, 0, 0, out from[person], out to[person]);
    }

    private bool Holds(Draft draft, int person, int night, int first, int last)
    {
        var (begin, end) = (heldFrom[person], heldTo[person]);
        if (last >= 0 && (first < begin || last > end)) return false;
        if (!personNight.Fit(draft, person, night, begin, end, 0, 0, 0, 0, out var fitFrom, out var fitTo)
            || (fitFrom, fitTo) != (begin, end))
            return false;
        (from[person], to[person]) = (begin, end);
        return true;
    }
}
