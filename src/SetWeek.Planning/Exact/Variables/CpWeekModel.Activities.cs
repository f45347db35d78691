using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    public HallConditions HallConditionsOf(ActivityMode mode)
    {
        if (!hallConditions.TryGetValue(mode, out var crewing)) hallConditions[mode] = crewing = new HallConditions(Problem, mode);
        return crewing;
    }

    /// <summary>Nothing of a night is over when the next one opens; the last one's own length is its day.</summary>
    public Span Horizon(int night)
    {
        var window = Problem.Nights[night];
        return new(window.Opens, night + 1 < Problem.Nights.Count
            ? Problem.Nights[night + 1].Opens
            : window.Closes + window.Span.Minutes);
    }

    private ILiteral PlacedLiteral(IndexedDisplay display)
    {
        if (Problem.Facts?.StaysPlaced[display.Index] == true) return TrueLiteral;
        if (FreeVariables is { Displays: { } free } && !free[display.Index])
            return FreeVariables.BaseSchedule.PlacedDisplays(Problem)[display.Index] ? TrueLiteral : FalseLiteral;
        return display.Tasks.Count == 0 && display.AlternateOf is null ? TrueLiteral : Cp.NewBoolVar("");
    }

    private List<CpActivity> CreateActivities()
    {
        var around = FreeVariables?.BaseSchedule.Work ?? [];
        var stints = around.Where(work => work.Stint is not null).ToDictionary(work => work.Stint!.Value);
        var downs = around.Where(work => work.IsCleanDown).ToDictionary(work => (work.Zone, work.Night));
        var jobs = new List<CpActivity>();
        foreach (var stint in Problem.Stints)
        {
            var begun = Problem.Facts?.BegunWork[stint.Index];
            var planned = stints.GetValueOrDefault(stint.Index);
            var hands = FreeVariables?.People is null || FreeVariables.People[stint.Index];
            var stays = FreeVariables is { Stints: { } free } && !free[stint.Index];
            jobs.Add(begun is not null
                ? CreateFixedActivity(jobs.Count, stint, stint.Task.Zone, stint.Task.Modes, begun, begun: true, peopleFree: false)
                : stays ? CreateFixedActivity(jobs.Count, stint, stint.Task.Zone, stint.Task.Modes, planned, begun: false, hands)
                : CreateFreeActivity(jobs.Count, stint, stint.Task.Zone, stint.Task.Modes, planned, hands));
        }
        foreach (var zone in Problem.Zones)
            foreach (var night in Problem.Nights)
            {
                var begun = Problem.Facts?.BegunCleanDowns
                    .FirstOrDefault(work => work.Zone == zone.Index && work.Night == night.Index);
                var planned = downs.GetValueOrDefault((zone.Index, night.Index));
                if (zone.CleanDown is null && begun is null) continue;
                ActivityMode[] modes = [zone.CleanDown ?? new ActivityMode(begun!.Span.Minutes, [], [])];
                var free = FreeVariables?.Nights is null || FreeVariables.Nights[night.Index];
                jobs.Add(begun is not null
                    ? CreateFixedActivity(jobs.Count, null, zone.Index, modes, begun, begun: true, peopleFree: false, night.Index)
                    : free ? CreateFreeActivity(jobs.Count, null, zone.Index, modes, null, peopleFree: true, night.Index)
                    : CreateFixedActivity(jobs.Count, null, zone.Index, modes, planned, begun: false, peopleFree: false, night.Index));
            }
        return jobs;
    }

    private CpActivity CreateFreeActivity(
        int index, Stint? stint, int zone, IReadOnlyList<ActivityMode> activityModes, ScheduledWork? planned, bool peopleFree, int? onlyNight = null)
    {
        var (modes, nights) = (activityModes.Count, Problem.Nights.Count);
        long[] sizes = [.. activityModes.Select((way, mode) => CeilingUnit(stint is null ? way.Minutes : Problem.MinutesOf(stint, mode)))];
        var present = Cp.NewBoolVar("");
        var start = Cp.NewIntVar(0, CeilingUnit(Horizon(nights - 1).To), "");
        var inNight = new ILiteral[nights];
        var (places, slots) = (new ILiteral[modes, nights], new CpStartDomain?[modes, nights]);
        for (var night = 0; night < nights; night++)
        {
            var open = onlyNight is { } only ? only == night
                : FreeVariables?.Nights is null || FreeVariables.Nights[night] || planned?.Night == night;
            inNight[night] = !open ? FalseLiteral : onlyNight is not null || nights == 1 ? present : Cp.NewBoolVar("");
            var reach = Horizon(night);
            for (var mode = 0; mode < modes; mode++)
            {
                places[mode, night] = !open ? FalseLiteral : modes == 1 ? inNight[night] : Cp.NewBoolVar("");
                if (open) slots[mode, night] = new CpStartDomain(CeilingUnit(reach.From), CeilingUnit(reach.To) - 1, CeilingUnit(reach.From));
            }
            if (open && modes > 1)
                ExactlyOneIf(Enumerable.Range(0, modes).Select(mode => places[mode, night]), inNight[night]);
        }
        if (onlyNight is null && nights > 1) ExactlyOneIf(inNight, present);
        var inMode = new ILiteral[modes];
        for (var mode = 0; mode < modes; mode++)
        {
            inMode[mode] = modes == 1 ? present : nights == 1 ? places[mode, 0] : Cp.NewBoolVar("");
            var way = mode;
            if (modes > 1 && nights > 1) ExactlyOneIf(Enumerable.Range(0, nights).Select(night => places[way, night]), inMode[mode]);
        }
        var (size, end) = SizeAndEnd(start, sizes, inMode);
        return new CpActivity
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Modes = activityModes, Sizes = sizes,
            Present = present, InMode = inMode, InNight = inNight, InModeAndNight = places, StartDomains = slots,
            Start = start, Size = size, End = end,
            Intervals =
                [.. inMode.Select((literal, mode) => Cp.NewOptionalFixedSizeIntervalVar(start, sizes[mode], literal, ""))],
            HasPerson = peopleFree ? PersonLiterals(activityModes) : PersonLiterals(planned),
        };
    }

    private CpActivity CreateFixedActivity(
        int index, Stint? stint, int zone, IReadOnlyList<ActivityMode> activityModes, ScheduledWork? work, bool begun, bool peopleFree, int? onlyNight = null)
    {
        var (from, to) = work is null ? (0, 0) : (FloorUnit(work.From), CeilingUnit(work.To));
        var places = new ILiteral[activityModes.Count, Problem.Nights.Count];
        for (var mode = 0; mode < activityModes.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                places[mode, night] = work is not null && work.Mode == mode && work.Night == night ? TrueLiteral : FalseLiteral;
        ILiteral[] modes = [.. activityModes.Select((_, mode) => work?.Mode == mode ? TrueLiteral : FalseLiteral)];
        return new CpActivity
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Modes = activityModes, Sizes = [.. activityModes.Select(_ => to - from)],
            Present = work is null ? FalseLiteral : TrueLiteral, InMode = modes,
            InNight = [.. Problem.Nights.Select(night => work?.Night == night.Index ? TrueLiteral : FalseLiteral)],
            InModeAndNight = places, StartDomains = new CpStartDomain?[activityModes.Count, Problem.Nights.Count],
            Start = Cp.NewConstant(from), Size = LinearExpr.Constant(to - from), End = LinearExpr.Constant(to),
            Intervals =
                [.. modes.Select(there => Cp.NewOptionalFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, there, ""))],
            HasPerson = work is not null && peopleFree ? PersonLiterals(activityModes) : PersonLiterals(work),
            FixedWork = work, Begun = begun,
        };
    }

    private ILiteral[] PersonLiterals(IReadOnlyList<ActivityMode> activityModes)
    {
        var able = activityModes.Aggregate(0UL, (set, mode) => set | HallConditionsOf(mode).EligiblePeople);
        return [.. Problem.Crew.Select(person => (able >> person.Index & 1) == 1 ? Cp.NewBoolVar("") : FalseLiteral)];
    }

    private ILiteral[] PersonLiterals(ScheduledWork? work) =>
        [.. Problem.Crew.Select(person => work?.Assignments.Any(assignment => assignment.Person == person.Index) == true ? TrueLiteral : FalseLiteral)];

    private (LinearExpr Size, LinearExpr End) SizeAndEnd(IntVar start, long[] sizes, ILiteral[] modes)
    {
        if (sizes.All(size => size == sizes[0])) return (LinearExpr.Constant(sizes[0]), start + sizes[0]);
        var end = Cp.NewIntVar(0, CeilingUnit(Horizon(Problem.Nights.Count - 1).To) + sizes.Max(), "");
        LinearExpr size;
        if (sizes.Length == 2) size = LinearExpr.Affine(modes[1], sizes[1] - sizes[0], sizes[0]);
        else
        {
            size = Cp.NewIntVar(sizes.Min(), sizes.Max(), "");
            for (var mode = 0; mode < modes.Length; mode++) AddLinear(size, sizes[mode], sizes[mode], [modes[mode]]);
        }
        AddLinear(end - start - size, 0, 0, []);
        return (size, end);
    }

    /// <summary>Exactly one of the parts holds where the whole does, none where it does not.</summary>
    private void ExactlyOneIf(IEnumerable<ILiteral> parts, ILiteral whole)
    {
        if (IsFixedTrue(whole)) Cp.AddExactlyOne(parts);
        else Cp.AddExactlyOne(parts.Append(whole.Not()));
    }

    /// <summary>The rules have cut: a place without a moment is none, and a start lies where its place has moments.</summary>
    public void ApplyStartDomains()
    {
        foreach (var activity in Activities)
        {
            var all = new List<(long From, long To)>();
            var places = new List<(ILiteral Place, List<(long, long)> Pieces)>();
            for (var night = 0; night < Problem.Nights.Count; night++)
                for (var mode = 0; mode < activity.Modes.Count; mode++)
                {
                    if (activity.StartDomains[mode, night] is not { } slots || IsFixedFalse(activity.InModeAndNight[mode, night])) continue;
                    if (slots.Empty)
                    {
                        FixFalse(activity.InModeAndNight[mode, night]);
                        continue;
                    }
                    places.Add((activity.InModeAndNight[mode, night], [.. slots.Intervals()]));
                    all.AddRange(places[^1].Pieces);
                }
            if (activity.FixedWork is not null || IsFixedFalse(activity.Present)) continue;
            if (all.Count == 0)
            {
                FixFalse(activity.Present);
                continue;
            }
            var domain = DomainOf(all);
            var start = activity.Start.Proto.Domain;
            start.Clear();
            start.AddRange(domain.FlattenedIntervals());
            foreach (var (place, pieces) in places)
                if (places.Count > 1) Cp.AddLinearExpressionInDomain(activity.Start, DomainOf(pieces)).OnlyEnforceIf(place);
        }
    }

    private static Google.OrTools.Util.Domain DomainOf(List<(long From, long To)> pieces) =>
        Google.OrTools.Util.Domain.FromIntervals([.. pieces.Select(piece => new[] { piece.From, piece.To })]);
}
