using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>A draft as a schedule: breaks are put where they disturb least, keyholders are named.</summary>
internal static class Finish
{
    public static Schedule Of(Image image, Draft draft)
    {
        var shifts = new List<Shift>();
        for (var night = 0; night < image.Nights; night++)
            for (var person = 0; person < image.People; person++)
                if (draft.ShiftFrom[person * image.Nights + night] >= 0) shifts.Add(ShiftOf(image, draft, person, night));
        var work = new List<Work>();
        for (var index = 0; index < image.Jobs.Length; index++)
            if (draft.Night[index] >= 0) work.Add(WorkOf(image, draft, image.Jobs[index]));
        var keyholders = Enumerable.Range(0, image.Nights).Select(night => Keyholder(image, draft, shifts, night));
        return new Schedule { Shifts = shifts, Work = work, Keyholders = [.. keyholders] };
    }

    private static Shift ShiftOf(Image image, Draft draft, int person, int night)
    {
        var at = person * image.Nights + night;
        var (from, to) = (draft.ShiftFrom[at], draft.ShiftTo[at]);
        var (begins, ends) = (image.Minute(night, from), image.Minute(night, to));
        var kind = image.Begun.Kind(at);
        if (kind == ShiftKind.Ended) return image.Begun.Of(at);
        if (kind == ShiftKind.UnderWay)
        {
            begins = image.Begun.Of(at).From;
            if (image.Begun.BreakBegun(at)) return new Shift(person, night, begins, ends, image.Begun.Of(at).Break);
        }
        if (ends - begins <= image.Problem.Crew[person].BreakAfter) return new Shift(person, night, begins, ends, null);
        Span<ulong> taken = stackalloc ulong[image.Words];
        draft.BusyRow(person, night).CopyTo(taken);
        var length = image.Shifts.BreakSlots[person];
        var start = PersonNight.BreakAt(taken, from, to, image.Shifts.MaxStretch[person], length,
            Wished(image, person, night, from, to, length));
        Span? rest = start < 0 ? null : new Span(image.Minute(night, start), image.Minute(night, start + length));
        return new Shift(person, night, begins, ends, rest);
    }

    /// <summary>Where the break was published, else the middle of the shift.</summary>
    private static int Wished(Image image, int person, int night, int from, int to, int length)
    {
        var published = image.Problem.Facts?.Published.Shifts.FirstOrDefault(shift =>
            shift.Person == person && shift.Night == night)?.Break;
        return published is { } rest ? Math.Max(0, image.SlotAtOrBefore(night, rest.From)) : (from + to - length) / 2;
    }

    private static Work WorkOf(Image image, Draft draft, Job job)
    {
        var index = job.Index;
        var people = draft.HandsOf(index).ToArray();
        if (job.Fixed)
        {
            var facts = image.Problem.Facts!;
            return job.CleanDownNight < 0 ? facts.Begun[index]!
                : facts.BegunCleanDowns.First(work => work.Zone == job.Zone && work.Night == job.CleanDownNight);
        }
        var manner = job.Manners[draft.Manner[index]];
        int? stint = job.CleanDownNight < 0 ? index : null;
        return new Work(draft.Night[index], stint, manner.Mode, job.Zone, draft.From[index], draft.To[index],
            [.. people.Select((person, seat) => new Hand(person, manner.Seats[seat].Skill))]);
    }

    /// <summary>The first keyholder in crew order whose shift spans all others.</summary>
    private static int? Keyholder(Image image, Draft draft, List<Shift> shifts, int night)
    {
        if (!image.KeyholderPresent) return null;
        if (image.Opens[night] + image.SlotCounts[night] * image.Grid <= image.Now)
            return draft.Keyholder[night] < 0 ? null : draft.Keyholder[night];
        var inNight = shifts.Where(shift => shift.Night == night).ToList();
        return inNight.Where(shift => image.Problem.Crew[shift.Person].Keyholder
            && inNight.All(other => shift.Span.Contains(other.Span)))
            .Select(shift => (int?)shift.Person).Min();
    }
}
