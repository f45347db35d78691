using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// The problem as the search reads it: jobs, and a night's slots as bits. Slots count from their night's opens, so a night
/// that does not open on the first night's grid needs no special code. People are bits of one word: 64 at most.
/// </summary>
internal sealed class Image
{
    private const int MostPeople = 64;

    /// <param name="problem">What is planned.</param>
    /// <param name="drain">Nights that are to be emptied; null: none.</param>
    public Image(Problem problem, Drain? drain = null)
    {
        if (problem.Crew.Count > MostPeople)
            throw new ArgumentException($"A crew of {problem.Crew.Count} is beyond {MostPeople}.", nameof(problem));
        (Problem, Drain) = (problem, drain);
        Grid = problem.Grid.Minutes;
        Nights = problem.Nights.Count;
        People = problem.Crew.Count;
        Zones = problem.Zones.Count;
        Stints = problem.Stints.Count;
        Now = problem.Facts?.Now ?? -Problem.Never;
        Opens = [.. problem.Nights.Select(night => night.Opens)];
        SlotCounts = [.. problem.Nights.Select(night => (night.Closes - night.Opens) / Grid)];
        Words = (SlotCounts.Max() + 63) / 64;
        Shifts = new ShiftTable(problem, SlotCounts, Words);
        Begun = new BegunShifts(this);
        Keyholders = [.. problem.Crew.Where(person => person.Keyholder).Select(person => person.Index)];
        Opening = problem.Rules.KeyholderPresent ? (problem.Rules.OpeningMinutes ?? 0) : 0;
        Closing = problem.Rules.KeyholderPresent ? (problem.Rules.ClosingMinutes ?? 0) : 0;
        Opening = (Opening + Grid - 1) / Grid;
        Closing = (Closing + Grid - 1) / Grid;
        MinPeople = problem.Rules.MinPeople ?? 0;
        (WorkFrom, WorkTo) = WorkWindows();
        Rates = [.. problem.Crew.Select(person => person.Rate)];
        MeanRate = Rates.DefaultIfEmpty(1).Average();
        SlotsBefore = [.. Enumerable.Range(0, Nights).Select(night => SlotCounts.Take(night).Sum())];
        Jobs = new JobList(this).All;
        Publication = new Publication(this);
        Demand = DemandByPerson();
        MostHands = Math.Max(1, Jobs.Max(job => job.Manners.Length == 0 ? 0 : job.Manners.Max(manner => manner.Seats.Length)));
        if (problem.Facts is { } facts)
            MostHands = Math.Max(MostHands, facts.Begun.OfType<Work>().Concat(facts.BegunCleanDowns)
                .Select(work => work.People.Count).DefaultIfEmpty(0).Max());
        Finals = [.. Jobs.Where(job => job is { Final: true, Fixed: false }).OrderBy(job => job.Rank).Select(job => job.Index)];
        InZone = [.. Enumerable.Range(0, Zones)
            .Select(zone => Jobs.Where(job => job.Zone == zone && job.CleanDownNight < 0).Select(job => job.Index).ToArray())];
        Options = DisplayOption.Of(this);
    }

    public Problem Problem { get; }
    public Drain? Drain { get; }

    /// <summary>Minutes a slot.</summary>
    public int Grid { get; }

    public int Nights { get; }
    public int People { get; }
    public int Zones { get; }
    public int Stints { get; }

    /// <summary>Minute before which nothing new starts.</summary>
    public int Now { get; }

    public int[] Opens { get; }

    /// <summary>By night: whole slots in it.</summary>
    public int[] SlotCounts { get; }

    /// <summary>Words of a night's row of bits.</summary>
    public int Words { get; }

    /// <summary>Slots of a night's row of counts.</summary>
    public int Width => Words * 64;

    public ShiftTable Shifts { get; }
    public BegunShifts Begun { get; }
    public int[] Keyholders { get; }
    public bool KeyholderPresent => Problem.Rules.KeyholderPresent;

    /// <summary>Slots that a keyholder is there before the first work, and after the last.</summary>
    public int Opening { get; }

    public int Closing { get; }
    public int MinPeople { get; }

    /// <summary>By night: slots between which work may lie for some keyholder to open and close.</summary>
    public int[] WorkFrom { get; }

    public int[] WorkTo { get; }

    public int[] Rates { get; }
    public double MeanRate { get; }

    /// <summary>By person: how much of the work would be theirs if all who can do it shared it, 1 on average.</summary>
    public double[] Demand { get; }

    /// <summary>By night: slots of the nights before it.</summary>
    public int[] SlotsBefore { get; }

    public Job[] Jobs { get; }

    public Publication Publication { get; }

    public int MostHands { get; }

    /// <summary>Stints of the task that comes after all else, in order.</summary>
    public int[] Finals { get; }

    /// <summary>By zone: its stints.</summary>
    public int[][] InZone { get; }

    public DisplayOption[] Options { get; }

    public int CleanDown(int zone, int night) => Stints + zone * Nights + night;
    public int Row(int person, int night) => (person * Nights + night) * Words;
    public int Minute(int night, int slot) => Opens[night] + slot * Grid;

    /// <summary>First slot that starts at or after a minute; may lie beyond the night.</summary>
    public int SlotAtOrAfter(int night, int minute) =>
        minute <= Opens[night] ? 0 : minute >= Problem.Never ? int.MaxValue / 2 : (minute - Opens[night] + Grid - 1) / Grid;

    /// <summary>
    /// Last slot boundary at or before a minute, at most the night's end; negative where the minute is before it opens.
    /// </summary>
    public int SlotAtOrBefore(int night, int minute) =>
        minute < Opens[night] ? -1 : Math.Min(SlotCounts[night], (minute - Opens[night]) / Grid);

    /// <summary>Gives a person a shift, or (-1, -1) none, and counts its pay.</summary>
    public void SetShift(Draft draft, int person, int night, int from, int to)
    {
        var at = person * Nights + night;
        if (draft.ShiftFrom[at] == from && draft.ShiftTo[at] == to) return;
        draft.Paid[person] += PaidMinutes(at, from, to) - PaidMinutes(at, draft.ShiftFrom[at], draft.ShiftTo[at]);
        draft.ShiftCount[person] += (from < 0 ? 0 : 1) - (draft.ShiftFrom[at] < 0 ? 0 : 1);
        (draft.ShiftFrom[at], draft.ShiftTo[at]) = (from, to);
    }

    /// <summary>Minutes paid of a shift of a person and night, begun shifts by the times they were published with.</summary>
    private int PaidMinutes(int at, int from, int to)
    {
        if (from < 0) return 0;
        var (person, night) = (at / Nights, at % Nights);
        if (Begun.Kind(at) == ShiftKind.Ended) return Begun.Of(at).PaidMinutes;
        var minutes = Begun.Kind(at) == ShiftKind.UnderWay ? Minute(night, to) - Begun.Of(at).From : (to - from) * Grid;
        return minutes > Problem.Crew[person].BreakAfter ? minutes - Problem.Crew[person].BreakMinutes : minutes;
    }

    private double[] DemandByPerson()
    {
        var demand = new double[People];
        foreach (var job in Jobs)
            if (job.CleanDownNight < 0 && job.Manners.Length > 0)
                foreach (var seat in job.Manners[0].Seats)
                    for (var person = 0; person < People; person++)
                        if ((seat.Eligible & 1UL << person) != 0)
                            demand[person] += (double)job.Manners[0].Minutes / ulong.PopCount(seat.Eligible);
        var mean = Math.Max(1, demand.DefaultIfEmpty(1).Average());
        return [.. demand.Select(minutes => minutes / mean)];
    }

    private (int[] From, int[] To) WorkWindows()
    {
        var (from, to) = (new int[Nights], (int[])SlotCounts.Clone());
        if (!KeyholderPresent) return (from, to);
        for (var night = 0; night < Nights; night++)
        {
            var (first, last) = (int.MaxValue, -1);
            foreach (var person in Keyholders)
            {
                var present = Shifts.Present.AsSpan(Row(person, night), Words);
                if (Slots.First(present) is var begin && begin < 0) continue;
                first = Math.Min(first, begin);
                last = Math.Max(last, Slots.Last(present) + 1);
            }
            // A shift that has begun may have begun before now, when no new one may.
            if (Problem.Facts?.BegunShifts.Any(shift => shift.Night == night) == true) (first, last) = (0, SlotCounts[night] + 0);
            (from[night], to[night]) = last < 0 ? (0, 0) : (Math.Max(0, first + Opening), last - Closing);
        }
        return (from, to);
    }
}
