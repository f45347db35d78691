using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Another's plan, or the published one, as a draft to go on from.</summary>
internal sealed class Adoption(Image image, PersonNight personNight)
{
    private readonly Gaps gaps = new(image);
    private readonly Crewing crewing = new(image, personNight);

    /// <summary>A checked plan, as it is.</summary>
    public void Take(Draft draft, Draft beginning, Schedule schedule)
    {
        draft.CopyFrom(beginning);
        Choose(draft, schedule);
        foreach (var work in schedule.Work)
            if (Find(work) is { Fixed: false } job
                && Array.FindIndex(job.Manners, manner => manner.Mode == work.Mode) is >= 0 and var manner)
                draft.Put(job.Index, manner, work.Night, (work.From - image.Opens[work.Night]) / image.Grid,
                    Seated(job.Manners[manner], work.People));
        foreach (var shift in schedule.Shifts)
            if (image.Begun.Kind(shift.Person * image.Nights + shift.Night) != ShiftKind.Ended)
                image.SetShift(draft, shift.Person, shift.Night,
                    Math.Max(0, image.SlotAtOrBefore(shift.Night, shift.From)), image.SlotAtOrBefore(shift.Night, shift.To));
        for (var night = 0; night < image.Nights; night++) draft.Keyholder[night] = schedule.Keyholders[night] ?? -1;
        draft.Touched = 0;
    }

    /// <summary>
    /// Of the published plan what still fits where it was: shifts first, then work in the order of its times. The rest is
    /// missing.
    /// </summary>
    /// <param name="draft">Filled with it.</param>
    /// <param name="beginning">What has begun.</param>
    /// <param name="published">The plan.</param>
    /// <param name="freely">
    /// What follows on something missing is missing too: there is more room for that, and less is kept.
    /// </param>
    public void Keep(Draft draft, Draft beginning, Schedule published, bool freely = false)
    {
        draft.CopyFrom(beginning);
        Choose(draft, published);
        foreach (var shift in published.Shifts)
        {
            var (begins, ends) = image.Publication.Held(shift.Person * image.Nights + shift.Night);
            if (begins >= 0) KeepShift(draft, shift.Person, shift.Night, begins, ends);
        }
        for (var night = 0; night < image.Nights; night++)
            if (published.Keyholders[night] is { } keyholder
                && draft.ShiftFrom[keyholder * image.Nights + night] >= 0)
                draft.Keyholder[night] = keyholder;
        foreach (var work in published.Work.OrderBy(work => work.From).ThenBy(work => work.Stint ?? int.MaxValue))
            if (work.From >= image.Now && Find(work) is { Fixed: false } job
                && !(freely && Waits(draft, job))) KeepWork(draft, job, work);
    }

    /// <summary>As it was or, where its night has become shorter, as much of it as there is room for.</summary>
    private void KeepShift(Draft draft, int person, int night, int begins, int ends)
    {
        for (var cut = 0; cut < ends - begins; cut += image.Shifts.Step)
            for (var early = 0; early <= cut; early += image.Shifts.Step)
                if (personNight.Fit(draft, person, night, begins + early, ends - cut + early, 0, 0, 0, 0,
                    out var from, out var to)
                    && (from, to) == (begins + early, ends - cut + early))
                {
                    image.SetShift(draft, person, night, from, to);
                    return;
                }
    }

    private void KeepWork(Draft draft, Job job, Work work)
    {
        var index = Array.FindIndex(job.Manners, manner => manner.Mode == work.Mode);
        if (index < 0 || (work.From - image.Opens[work.Night]) % image.Grid != 0) return;
        var manner = job.Manners[index];
        var start = (work.From - image.Opens[work.Night]) / image.Grid;
        var hands = Seated(manner, work.People);
        if (hands.Length != manner.Seats.Length
            || !gaps.Find(draft, job, manner, work.Night, Window.Of(image, draft, job.Index), crewing.Kept))
            return;
        if (start < 0 || start >= image.Width || !Slots.Has(gaps.Starts, start)) return;
        var free = gaps.FreeAt(manner, start);
        foreach (var person in hands)
        {
            var at = person * image.Nights + work.Night;
            if ((free & 1UL << person) == 0 || draft.ShiftFrom[at] < 0 || start < draft.ShiftFrom[at]
                || start + manner.Slots > draft.ShiftTo[at])
                return;
            if (!personNight.BreakFits(draft, person, work.Night, draft.ShiftFrom[at], draft.ShiftTo[at], start,
                start + manner.Slots))
                return;
        }
        draft.Put(job.Index, index, work.Night, start, hands);
    }

    private static bool Waits(Draft draft, Job job)
    {
        foreach (var tie in job.Before) if (draft.Night[tie.Job] < 0) return true;
        return false;
    }

    private Job? Find(Work work) => work.Stint is { } stint ? image.Jobs[stint]
        : image.Problem.Zones[work.Zone].CleanDown is null ? null : image.Jobs[image.CleanDown(work.Zone, work.Night)];

    private void Choose(Draft draft, Schedule schedule)
    {
        var placed = schedule.Placed(image.Problem);
        for (var at = 0; at < image.Options.Length; at++)
        {
            var option = image.Options[at];
            var choice = placed[option.Display] ? 0 : option.Alternate >= 0 && placed[option.Alternate] ? 1 : 2;
            draft.Choice[at] = option.Choices.Contains(choice) ? choice : option.Choices[0];
        }
    }

    /// <summary>Who worked, in the order of a manner's seats; shorter where somebody does not fit any more.</summary>
    private static byte[] Seated(Manner manner, IReadOnlyList<Hand> people)
    {
        var hands = new byte[manner.Seats.Length];
        var left = people.ToList();
        return Seat(manner, left, hands, 0) ? hands : [];
    }

    private static bool Seat(Manner manner, List<Hand> left, byte[] hands, int seat)
    {
        if (seat == manner.Seats.Length) return left.Count == 0;
        for (var at = 0; at < left.Count; at++)
        {
            var hand = left[at];
            if (hand.Skill != manner.Seats[seat].Skill || (manner.Seats[seat].Eligible & 1UL << hand.Person) == 0) continue;
            left.RemoveAt(at);
            hands[seat] = (byte)hand.Person;
            if (Seat(manner, left, hands, seat + 1)) return true;
            left.Insert(at, hand);
        }
        return false;
    }
}
