using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>In a re-plan: what is otherwise than published, and what is in the way of its going back.</summary>
internal sealed partial class Ruin
{
    private readonly List<int> displaced = [];

    /// <summary>
    /// Takes out a stint that has another night than published with what lies where it was, or what keeps a shift from being
    /// as published; where nothing is otherwise, about so many stints by chance.
    /// </summary>
    public void TakeBack(Draft from, int about)
    {
        if (!Begin(from, about, out var count)) return;
        Displacements();
        if (displaced.Count == 0) TakeSome(placed.AsSpan(0, count));
        else if (displaced[chance.Below(displaced.Count)] is var one && one < image.Stints) BackToItsNight(one);
        else BackToItsHours(one - image.Stints);
        if (chance.Happens(FinalsToo) || FinalNightTouched) LiftFinals();
        CleanDowns(chance.Happens(CleanDownsToo));
    }

    /// <summary>A published shift need not stay, and its person gets no work that night: they may be on in another one.</summary>
    public void TakeOff(Draft from)
    {
        if (!Begin(from, 0, out var count)) return;
        var seed = placed[chance.Below(count)];
        if (draft.HandCount[seed] == 0) return;
        var (night, person) = (draft.Night[seed], draft.Hands[seed * image.MostHands + chance.Below(draft.HandCount[seed])]);
        // Half the time any of the person's nights, which may be one with no work left.
        if (chance.Happens(0.5)) night = chance.Below(image.Nights);
        if (image.Publication.Held(person * image.Nights + night).From < 0) return;
        image.Publication.Released[person * image.Nights + night] = true;
        for (var job = 0; job < image.Stints; job++)
            if (draft.Night[job] == night && Movable(job) && draft.HandsOf(job).Contains(person)) Lift(job);
        placer.KeptOff[night] |= 1UL << person;
        draft.Touched |= 1u << night;
        if (FinalNightTouched) LiftFinals();
        CleanDowns(again: true);
    }

    /// <summary>Work that was kept in a zone whose clean-down does not fit any more goes, and clean-downs after no work.</summary>
    public void TakeUnclean(Draft from)
    {
        if (!Begin(from, 0, out _)) return;
        LiftFinals();
        for (var zone = 0; zone < image.Zones; zone++)
            for (var night = 0; night < image.Nights; night++)
            {
                if (placer.CleanDownAfter(draft, zone, night)) continue;
                foreach (var job in image.InZone[zone]) if (draft.Night[job] == night && Movable(job)) Lift(job);
            }
        CleanDowns(false);
    }

    /// <summary>Stints by index, then person-nights.</summary>
    private void Displacements()
    {
        displaced.Clear();
        var publication = image.Publication;
        for (var job = 0; job < image.Stints; job++)
            if (Movable(job) && publication.Night(job) >= 0 && publication.Night(job) != draft.Night[job]) displaced.Add(job);
        for (var at = 0; at < draft.ShiftFrom.Length; at++)
            if (publication.ShiftChange(draft, at) > 0) displaced.Add(image.Stints + at);
    }

    private void BackToItsNight(int job)
    {
        Lift(job);
        var (night, start) = (image.Publication.Night(job), image.Publication.Start(job));
        if (start < 0) return;
        var manner = image.Jobs[job].Manners[0];
        var slack = chance.Below(6);
        for (var other = 0; other < image.Stints; other++)
            if (draft.Night[other] == night && Movable(other) && draft.End[other] > start - slack
                && draft.Start[other] < start + manner.Slots + slack && InTheWay(manner, image.Jobs[job], other)
                && chance.Happens(0.6))
                Lift(other);
    }

    /// <summary>The person's work outside the hours published goes to others, or elsewhere; where there were none, all of it.</summary>
    private void BackToItsHours(int at)
    {
        var (person, night) = (at / image.Nights, at % image.Nights);
        image.Publication.Released[at] = false;
        draft.Touched |= 1u << night;
        var (from, to) = image.Publication.Held(at);
        for (var job = 0; job < image.Stints; job++)
        {
            if (draft.Night[job] != night || !Movable(job)) continue;
            if (draft.HandsOf(job).Contains((byte)person) && (draft.Start[job] < from || draft.End[job] > to)) Lift(job);
        }
        if (from < 0) placer.KeptOff[night] |= 1UL << person;
        // A keyholder, or company, is there for others' work too: what reaches beyond their hours.
        if (from >= 0 && chance.Happens(0.5))
            for (var job = 0; job < image.Stints; job++)
                if (draft.Night[job] == night && Movable(job) && (draft.Start[job] < from || draft.End[job] > to)
                    && chance.Happens(0.7))
                    Lift(job);
        Thin(night);
    }
}
