using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>The published plan as the search compares with it, in a re-plan.</summary>
internal sealed class Publication
{
    private readonly Image image;
    private readonly int[] nights, starts;
    private readonly ulong[] people;
    private readonly Shift?[] shifts;
    private readonly (int From, int To)[] held;
    private readonly int noticeEnds;
    private readonly double price;

    public Publication(Image image)
    {
        this.image = image;
        (nights, starts) = (new int[image.Jobs.Length], new int[image.Jobs.Length]);
        people = new ulong[image.Jobs.Length];
        shifts = new Shift?[image.People * image.Nights];
        held = new (int, int)[shifts.Length];
        Released = new bool[shifts.Length];
        Array.Fill(nights, -1);
        Array.Fill(starts, -1);
        Array.Fill(held, (-1, -1));
        if (image.Problem.Facts is not { } facts) return;
        noticeEnds = image.Now + (image.Problem.Rules.NoticeMinutes ?? -Problem.Never);
        price = Tariff.For(image.Problem).Change;
        foreach (var work in facts.Published.Work) Keep(work);
        foreach (var shift in facts.Published.Shifts)
        {
            var at = shift.Person * image.Nights + shift.Night;
            var opens = image.Opens[shift.Night];
            shifts[at] = shift;
            if (price <= 0 || (shift.To - opens) % image.Grid != 0) continue;
            if (image.Begun.Kind(at) == ShiftKind.UnderWay) held[at] = (image.Begun.From(at), (shift.To - opens) / image.Grid);
            else if (shift.From >= image.Now
                && (shift.From - opens) % image.Grid == 0)
                held[at] = ((shift.From - opens) / image.Grid, (shift.To - opens) / image.Grid);
        }
    }

    /// <summary>What a change is taken to cost while rosters are compared; 0 where changes come after cost.</summary>
    public double Price => AllReleased ? 0 : price;

    /// <summary>The night that a stint was published in; -1: none.</summary>
    public int Night(int job) => nights[job];

    /// <summary>
    /// Slot that a job was published at, in its night; -1: none. Clean-downs have one too, in the night that they are of.
    /// </summary>
    public int Start(int job) => starts[job];

    /// <summary>Was that person published as one of those at work on it?</summary>
    public bool Was(int job, int person) => (people[job] & 1UL << person) != 0;

    /// <summary>Jobs at another time, or with other people, than published: nothing that a goal counts, and yet a nuisance.</summary>
    public int Stirred(Draft draft)
    {
        var count = 0;
        for (var job = 0; job < starts.Length; job++)
        {
            if (starts[job] < 0 || draft.Night[job] < 0) continue;
            if (draft.Start[job] != starts[job] || job < image.Stints && draft.Night[job] != nights[job]) count++;
            foreach (var person in draft.HandsOf(job))
                if (!Was(job, person)) { count++; break; }
        }
        return count;
    }

    /// <summary>The shift published for a person and night, in slots, where it should stay; (-1, -1) elsewhere.</summary>
    public (int From, int To) Held(int at) => AllReleased || Released[at] ? (-1, -1) : held[at];

    /// <summary>By person and night: the published shift need not stay, for now.</summary>
    public bool[] Released { get; }

    /// <summary>None of them need stay, for now: a plan is made as if none had been published.</summary>
    public bool AllReleased { get; set; }

    /// <summary>What the shift of a person and night adds to the changes.</summary>
    public int ShiftChange(Draft draft, int at)
    {
        var (old, from) = (shifts[at], draft.ShiftFrom[at]);
        if (old is null && from < 0) return 0;
        var begins = from < 0 ? Problem.Never
            : image.Begun.Kind(at) == ShiftKind.Open ? image.Minute(at % image.Nights, from) : image.Begun.Of(at).From;
        var change = 2;
        if (old is not null && from >= 0)
        {
            var ends = image.Begun.Kind(at) == ShiftKind.Ended ? old.To : image.Minute(at % image.Nights, draft.ShiftTo[at]);
            change = begins == old.From && ends == old.To ? 0 : 1;
        }
        return Math.Min(begins, old?.From ?? Problem.Never) < noticeEnds ? 3 * change : change;
    }

    private void Keep(Work work)
    {
        var job = work.Stint ?? (image.Problem.Zones[work.Zone].CleanDown is null ? -1 : image.CleanDown(work.Zone, work.Night));
        if (job < 0) return;
        if (work.Stint is not null) nights[job] = work.Night;
        foreach (var hand in work.People) people[job] |= 1UL << hand.Person;
        var minutes = work.From - image.Opens[work.Night];
        if (work.From >= image.Now && minutes % image.Grid == 0 && minutes / image.Grid < image.SlotCounts[work.Night])
            starts[job] = minutes / image.Grid;
    }
}
