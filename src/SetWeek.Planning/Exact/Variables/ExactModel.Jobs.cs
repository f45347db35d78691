using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class ExactModel
{
    public Crewing CrewingOf(Way way)
    {
        if (!crewings.TryGetValue(way, out var crewing)) crewings[way] = crewing = new Crewing(Problem, way);
        return crewing;
    }

    /// <summary>Nothing of a night is over when the next one opens; the last one's own length is its day.</summary>
    public Span Reach(int night)
    {
        var window = Problem.Nights[night];
        return new(window.Opens, night + 1 < Problem.Nights.Count
            ? Problem.Nights[night + 1].Opens
            : window.Closes + window.Span.Minutes);
    }

    private ILiteral PlacedLiteral(Exhibit display)
    {
        if (Problem.Facts?.StaysPlaced[display.Index] == true) return Yes;
        if (Freedom is { Displays: { } free } && !free[display.Index])
            return Freedom.Around.Placed(Problem)[display.Index] ? Yes : No;
        return display.Tasks.Count == 0 && display.InsteadOf is null ? Yes : Cp.NewBoolVar("");
    }

    private List<ExactJob> JobsOf()
    {
        var around = Freedom?.Around.Work ?? [];
        var stints = around.Where(work => work.Stint is not null).ToDictionary(work => work.Stint!.Value);
        var downs = around.Where(work => work.IsCleanDown).ToDictionary(work => (work.Zone, work.Night));
        var jobs = new List<ExactJob>();
        foreach (var stint in Problem.Stints)
        {
            var begun = Problem.Facts?.Begun[stint.Index];
            var planned = stints.GetValueOrDefault(stint.Index);
            var hands = Freedom?.Hands is null || Freedom.Hands[stint.Index];
            var stays = Freedom is { Stints: { } free } && !free[stint.Index];
            jobs.Add(begun is not null
                ? FixedJob(jobs.Count, stint, stint.Task.Zone, stint.Task.Ways, begun, begun: true, hands: false)
                : stays ? FixedJob(jobs.Count, stint, stint.Task.Zone, stint.Task.Ways, planned, begun: false, hands)
                : FreeJob(jobs.Count, stint, stint.Task.Zone, stint.Task.Ways, planned, hands));
        }
        foreach (var zone in Problem.Zones)
            foreach (var night in Problem.Nights)
            {
                var begun = Problem.Facts?.BegunCleanDowns
                    .FirstOrDefault(work => work.Zone == zone.Index && work.Night == night.Index);
                var planned = downs.GetValueOrDefault((zone.Index, night.Index));
                if (zone.CleanDown is null && begun is null) continue;
                Way[] ways = [zone.CleanDown ?? new Way(begun!.Span.Minutes, [], [])];
                var free = Freedom?.Nights is null || Freedom.Nights[night.Index];
                jobs.Add(begun is not null
                    ? FixedJob(jobs.Count, null, zone.Index, ways, begun, begun: true, hands: false, night.Index)
                    : free ? FreeJob(jobs.Count, null, zone.Index, ways, null, hands: true, night.Index)
                    : FixedJob(jobs.Count, null, zone.Index, ways, planned, begun: false, hands: false, night.Index));
            }
        return jobs;
    }

    private ExactJob FreeJob(
        int index, Stint? stint, int zone, IReadOnlyList<Way> ways, Work? planned, bool hands, int? onlyNight = null)
    {
        var (modes, nights) = (ways.Count, Problem.Nights.Count);
        long[] sizes = [.. ways.Select((way, mode) => Up(stint is null ? way.Minutes : Problem.MinutesOf(stint, mode)))];
        var present = Cp.NewBoolVar("");
        var start = Cp.NewIntVar(0, Up(Reach(nights - 1).To), "");
        var inNight = new ILiteral[nights];
        var (places, slots) = (new ILiteral[modes, nights], new ExactSlots?[modes, nights]);
        for (var night = 0; night < nights; night++)
        {
            var open = onlyNight is { } only ? only == night
                : Freedom?.Nights is null || Freedom.Nights[night] || planned?.Night == night;
            inNight[night] = !open ? No : onlyNight is not null || nights == 1 ? present : Cp.NewBoolVar("");
            var reach = Reach(night);
            for (var mode = 0; mode < modes; mode++)
            {
                places[mode, night] = !open ? No : modes == 1 ? inNight[night] : Cp.NewBoolVar("");
                if (open) slots[mode, night] = new ExactSlots(Up(reach.From), Up(reach.To) - 1, Up(reach.From));
            }
            if (open && modes > 1)
                SumsTo(Enumerable.Range(0, modes).Select(mode => places[mode, night]), inNight[night]);
        }
        if (onlyNight is null && nights > 1) SumsTo(inNight, present);
        var inMode = new ILiteral[modes];
        for (var mode = 0; mode < modes; mode++)
        {
            inMode[mode] = modes == 1 ? present : nights == 1 ? places[mode, 0] : Cp.NewBoolVar("");
            var way = mode;
            if (modes > 1 && nights > 1) SumsTo(Enumerable.Range(0, nights).Select(night => places[way, night]), inMode[mode]);
        }
        var (size, end) = SizeAndEnd(start, sizes, inMode);
        return new ExactJob
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Ways = ways, Sizes = sizes,
            Present = present, Modes = inMode, Nights = inNight, Places = places, Slots = slots,
            Start = start, Size = size, End = end,
            Intervals =
                [.. inMode.Select((literal, mode) => Cp.NewOptionalFixedSizeIntervalVar(start, sizes[mode], literal, ""))],
            People = hands ? PeopleOf(ways) : PeopleOf(planned),
        };
    }

    private ExactJob FixedJob(
        int index, Stint? stint, int zone, IReadOnlyList<Way> ways, Work? work, bool begun, bool hands, int? onlyNight = null)
    {
        var (from, to) = work is null ? (0, 0) : (Down(work.From), Up(work.To));
        var places = new ILiteral[ways.Count, Problem.Nights.Count];
        for (var mode = 0; mode < ways.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                places[mode, night] = work is not null && work.Mode == mode && work.Night == night ? Yes : No;
        ILiteral[] modes = [.. ways.Select((_, mode) => work?.Mode == mode ? Yes : No)];
        return new ExactJob
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Ways = ways, Sizes = [.. ways.Select(_ => to - from)],
            Present = work is null ? No : Yes, Modes = modes,
            Nights = [.. Problem.Nights.Select(night => work?.Night == night.Index ? Yes : No)],
            Places = places, Slots = new ExactSlots?[ways.Count, Problem.Nights.Count],
            Start = Cp.NewConstant(from), Size = LinearExpr.Constant(to - from), End = LinearExpr.Constant(to),
            Intervals =
                [.. modes.Select(there => Cp.NewOptionalFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, there, ""))],
            People = work is not null && hands ? PeopleOf(ways) : PeopleOf(work),
            Fixed = work, Begun = begun,
        };
    }

    private ILiteral[] PeopleOf(IReadOnlyList<Way> ways)
    {
        var able = ways.Aggregate(0UL, (set, way) => set | CrewingOf(way).Everyone);
        return [.. Problem.Crew.Select(person => (able >> person.Index & 1) == 1 ? Cp.NewBoolVar("") : No)];
    }

    private ILiteral[] PeopleOf(Work? work) =>
        [.. Problem.Crew.Select(person => work?.People.Any(hand => hand.Person == person.Index) == true ? Yes : No)];

    private (LinearExpr Size, LinearExpr End) SizeAndEnd(IntVar start, long[] sizes, ILiteral[] modes)
    {
        if (sizes.All(size => size == sizes[0])) return (LinearExpr.Constant(sizes[0]), start + sizes[0]);
        var end = Cp.NewIntVar(0, Up(Reach(Problem.Nights.Count - 1).To) + sizes.Max(), "");
        LinearExpr size;
        if (sizes.Length == 2) size = LinearExpr.Affine(modes[1], sizes[1] - sizes[0], sizes[0]);
        else
        {
            size = Cp.NewIntVar(sizes.Min(), sizes.Max(), "");
            for (var mode = 0; mode < modes.Length; mode++) Post(size, sizes[mode], sizes[mode], [modes[mode]]);
        }
        Post(end - start - size, 0, 0, []);
        return (size, end);
    }

    /// <summary>Exactly one of the parts holds where the whole does, none where it does not.</summary>
    private void SumsTo(IEnumerable<ILiteral> parts, ILiteral whole)
    {
        if (IsYes(whole)) Cp.AddExactlyOne(parts);
        else Cp.AddExactlyOne(parts.Append(whole.Not()));
    }

    /// <summary>The rules have cut: a place without a moment is none, and a start lies where its place has moments.</summary>
    public void CloseSlots()
    {
        foreach (var job in Jobs)
        {
            var all = new List<(long From, long To)>();
            var places = new List<(ILiteral Place, List<(long, long)> Pieces)>();
            for (var night = 0; night < Problem.Nights.Count; night++)
                for (var mode = 0; mode < job.Ways.Count; mode++)
                {
                    if (job.Slots[mode, night] is not { } slots || IsNo(job.Places[mode, night])) continue;
                    if (slots.Empty)
                    {
                        Deny(job.Places[mode, night]);
                        continue;
                    }
                    places.Add((job.Places[mode, night], [.. slots.Pieces()]));
                    all.AddRange(places[^1].Pieces);
                }
            if (job.Fixed is not null || IsNo(job.Present)) continue;
            if (all.Count == 0)
            {
                Deny(job.Present);
                continue;
            }
            var domain = DomainOf(all);
            var start = job.Start.Proto.Domain;
            start.Clear();
            start.AddRange(domain.FlattenedIntervals());
            foreach (var (place, pieces) in places)
                if (places.Count > 1) Cp.AddLinearExpressionInDomain(job.Start, DomainOf(pieces)).OnlyEnforceIf(place);
        }
    }

    private static Google.OrTools.Util.Domain DomainOf(List<(long From, long To)> pieces) =>
        Google.OrTools.Util.Domain.FromIntervals([.. pieces.Select(piece => new[] { piece.From, piece.To })]);
}
