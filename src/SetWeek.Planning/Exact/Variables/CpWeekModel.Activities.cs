using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Exact.Variables;

internal sealed partial class CpWeekModel
{
    /// <summary>The conditions of a mode, computed once.</summary>
    public HallConditions HallConditionsOf(ActivityMode mode)
    {
        if (!hallConditions.TryGetValue(mode, out var conditions))
            hallConditions[mode] = conditions = new HallConditions(Problem, mode);
        return conditions;
    }

    /// <summary>
    /// The minutes in which work and shifts of a night may lie before rules are posted: until the next night opens. The last
    /// night is extended by its own length instead.
    /// </summary>
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
        var baseWork = FreeVariables?.BaseSchedule.Work ?? [];
        var baseStints = baseWork.Where(work => work.Stint is not null).ToDictionary(work => work.Stint!.Value);
        var baseCleanDowns = baseWork.Where(work => work.IsCleanDown).ToDictionary(work => (work.Zone, work.Night));
        var activities = new List<CpActivity>();
        foreach (var stint in Problem.Stints)
        {
            var (index, zone, modes) = (activities.Count, stint.Task.Zone, stint.Task.Modes);
            var begun = Problem.Facts?.BegunWork[stint.Index];
            var planned = baseStints.GetValueOrDefault(stint.Index);
            var peopleFree = FreeVariables?.People is null || FreeVariables.People[stint.Index];
            var timeFixed = FreeVariables is { Stints: { } free } && !free[stint.Index];
            activities.Add(begun is not null
                ? CreateFixedActivity(index, stint, zone, modes, begun, begun: true, peopleFree: false)
                : timeFixed ? CreateFixedActivity(index, stint, zone, modes, planned, begun: false, peopleFree)
                : CreateFreeActivity(index, stint, zone, modes, planned, peopleFree));
        }
        foreach (var zone in Problem.Zones)
            foreach (var night in Problem.Nights)
            {
                var begun = Problem.Facts?.BegunCleanDowns
                    .FirstOrDefault(work => work.Zone == zone.Index && work.Night == night.Index);
                var planned = baseCleanDowns.GetValueOrDefault((zone.Index, night.Index));
                if (zone.CleanDown is null && begun is null) continue;
                var index = activities.Count;
                ActivityMode[] modes = [zone.CleanDown ?? new ActivityMode(begun!.Span.Minutes, [], [])];
                var free = FreeVariables?.Nights is null || FreeVariables.Nights[night.Index];
                activities.Add(begun is not null
                    ? CreateFixedActivity(index, null, zone.Index, modes, begun, begun: true, peopleFree: false, night.Index)
                    : free ? CreateFreeActivity(index, null, zone.Index, modes, null, peopleFree: true, night.Index)
                    : CreateFixedActivity(index, null, zone.Index, modes, planned, begun: false, peopleFree: false, night.Index));
            }
        return activities;
    }

    /// <summary>Variables of an activity whose time and mode are free.</summary>
    /// <param name="index">Its position in <see cref="Activities"/>.</param>
    /// <param name="stint">The stint; null for a clean-down.</param>
    /// <param name="zone">Where it takes place.</param>
    /// <param name="activityModes">Its modes.</param>
    /// <param name="planned">Its work in the base plan, whose night stays possible; null where there is none.</param>
    /// <param name="peopleFree">Whether its people are free; otherwise they are as planned.</param>
    /// <param name="onlyNight">The night of a clean-down; null for a stint.</param>
    private CpActivity CreateFreeActivity(
        int index, Stint? stint, int zone, IReadOnlyList<ActivityMode> activityModes, ScheduledWork? planned, bool peopleFree,
        int? onlyNight = null)
    {
        var (modes, nights) = (activityModes.Count, Problem.Nights.Count);
        long[] sizes = [.. activityModes.Select((activityMode, mode) =>
            CeilingUnit(stint is null ? activityMode.Minutes : Problem.MinutesOf(stint, mode)))];
        var present = Cp.NewBoolVar("");
        var start = Cp.NewIntVar(0, CeilingUnit(Horizon(nights - 1).To), "");
        var inNight = new ILiteral[nights];
        var (inModeAndNight, startDomains) = (new ILiteral[modes, nights], new CpStartDomain?[modes, nights]);
        for (var night = 0; night < nights; night++)
        {
            var possible = onlyNight is { } only ? only == night
                : FreeVariables?.Nights is null || FreeVariables.Nights[night] || planned?.Night == night;
            inNight[night] = !possible ? FalseLiteral : onlyNight is not null || nights == 1 ? present : Cp.NewBoolVar("");
            var (opens, ends) = (CeilingUnit(Horizon(night).From), CeilingUnit(Horizon(night).To));
            for (var mode = 0; mode < modes; mode++)
            {
                inModeAndNight[mode, night] = !possible ? FalseLiteral : modes == 1 ? inNight[night] : Cp.NewBoolVar("");
                if (possible) startDomains[mode, night] = new CpStartDomain(opens, ends - 1, opens);
            }
            if (possible && modes > 1)
                ExactlyOneIf(Enumerable.Range(0, modes).Select(mode => inModeAndNight[mode, night]), inNight[night]);
        }
        if (onlyNight is null && nights > 1) ExactlyOneIf(inNight, present);
        var inMode = new ILiteral[modes];
        for (var mode = 0; mode < modes; mode++)
        {
            inMode[mode] = modes == 1 ? present : nights == 1 ? inModeAndNight[mode, 0] : Cp.NewBoolVar("");
            var currentMode = mode;
            if (modes > 1 && nights > 1)
                ExactlyOneIf(Enumerable.Range(0, nights).Select(night => inModeAndNight[currentMode, night]), inMode[mode]);
        }
        var (size, end) = SizeAndEnd(start, sizes, inMode);
        return new CpActivity
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Modes = activityModes, Sizes = sizes,
            Present = present, InMode = inMode, InNight = inNight, InModeAndNight = inModeAndNight,
            StartDomains = startDomains, Start = start, Size = size, End = end,
            Intervals =
                [.. inMode.Select((literal, mode) => Cp.NewOptionalFixedSizeIntervalVar(start, sizes[mode], literal, ""))],
            HasPerson = peopleFree ? PersonLiterals(activityModes) : PersonLiterals(planned),
        };
    }

    /// <summary>Constants for an activity whose time and mode are fixed to some work; absent where that is null.</summary>
    private CpActivity CreateFixedActivity(
        int index, Stint? stint, int zone, IReadOnlyList<ActivityMode> activityModes, ScheduledWork? work, bool begun,
        bool peopleFree, int? onlyNight = null)
    {
        var (from, to) = work is null ? (0, 0) : (FloorUnit(work.From), CeilingUnit(work.To));
        var inModeAndNight = new ILiteral[activityModes.Count, Problem.Nights.Count];
        for (var mode = 0; mode < activityModes.Count; mode++)
            for (var night = 0; night < Problem.Nights.Count; night++)
                inModeAndNight[mode, night] =
                    work is not null && work.Mode == mode && work.Night == night ? TrueLiteral : FalseLiteral;
        ILiteral[] inMode = [.. activityModes.Select((_, mode) => work?.Mode == mode ? TrueLiteral : FalseLiteral)];
        return new CpActivity
        {
            Index = index, Stint = stint, Zone = zone, Night = onlyNight, Modes = activityModes,
            Sizes = [.. activityModes.Select(_ => to - from)],
            Present = work is null ? FalseLiteral : TrueLiteral, InMode = inMode,
            InNight = [.. Problem.Nights.Select(night => work?.Night == night.Index ? TrueLiteral : FalseLiteral)],
            InModeAndNight = inModeAndNight, StartDomains = new CpStartDomain?[activityModes.Count, Problem.Nights.Count],
            Start = Cp.NewConstant(from), Size = LinearExpr.Constant(to - from), End = LinearExpr.Constant(to),
            Intervals = [.. inMode.Select(literal =>
                Cp.NewOptionalFixedSizeIntervalVar(LinearExpr.Constant(from), to - from, literal, ""))],
            HasPerson = work is not null && peopleFree ? PersonLiterals(activityModes) : PersonLiterals(work),
            FixedWork = work, Begun = begun,
        };
    }

    /// <summary>By person: a free literal where they have a skill that some mode needs, else false.</summary>
    private ILiteral[] PersonLiterals(IReadOnlyList<ActivityMode> activityModes)
    {
        var eligible = activityModes.Aggregate(0UL, (set, mode) => set | HallConditionsOf(mode).EligiblePeople);
        return [.. Problem.Crew.Select(person => (eligible >> person.Index & 1) == 1 ? Cp.NewBoolVar("") : FalseLiteral)];
    }

    /// <summary>By person: fixed to whether they are on the work.</summary>
    private ILiteral[] PersonLiterals(ScheduledWork? work) => [.. Problem.Crew.Select(person =>
        work?.Assignments.Any(assignment => assignment.Person == person.Index) == true ? TrueLiteral : FalseLiteral)];

    private (LinearExpr Size, LinearExpr End) SizeAndEnd(IntVar start, long[] sizes, ILiteral[] inMode)
    {
        if (sizes.All(size => size == sizes[0])) return (LinearExpr.Constant(sizes[0]), start + sizes[0]);
        var end = Cp.NewIntVar(0, CeilingUnit(Horizon(Problem.Nights.Count - 1).To) + sizes.Max(), "");
        LinearExpr size;
        if (sizes.Length == 2) size = LinearExpr.Affine(inMode[1], sizes[1] - sizes[0], sizes[0]);
        else
        {
            size = Cp.NewIntVar(sizes.Min(), sizes.Max(), "");
            for (var mode = 0; mode < inMode.Length; mode++) AddLinear(size, sizes[mode], sizes[mode], [inMode[mode]]);
        }
        AddLinear(end - start - size, 0, 0, []);
        return (size, end);
    }

    /// <summary>Exactly one of the parts holds where the whole holds, and none where it does not.</summary>
    private void ExactlyOneIf(IEnumerable<ILiteral> parts, ILiteral whole)
    {
        if (IsFixedTrue(whole)) Cp.AddExactlyOne(parts);
        else Cp.AddExactlyOne(parts.Append(whole.Not()));
    }

    /// <summary>
    /// Posts the start domains after all rules have reduced them. A mode and night with an empty domain becomes impossible. Where
    /// there are several, a start lies in the domain of the mode and night chosen.
    /// </summary>
    public void ApplyStartDomains()
    {
        foreach (var activity in Activities)
        {
            var allRanges = new List<(long From, long To)>();
            var choices = new List<(ILiteral Chosen, List<(long, long)> Ranges)>();
            for (var night = 0; night < Problem.Nights.Count; night++)
                for (var mode = 0; mode < activity.Modes.Count; mode++)
                {
                    var chosen = activity.InModeAndNight[mode, night];
                    if (activity.StartDomains[mode, night] is not { } starts || IsFixedFalse(chosen)) continue;
                    if (starts.Empty)
                    {
                        FixFalse(chosen);
                        continue;
                    }
                    choices.Add((chosen, [.. starts.Intervals()]));
                    allRanges.AddRange(choices[^1].Ranges);
                }
            if (activity.FixedWork is not null || IsFixedFalse(activity.Present)) continue;
            if (allRanges.Count == 0)
            {
                FixFalse(activity.Present);
                continue;
            }
            var union = DomainOf(allRanges);
            var startDomain = activity.Start.Proto.Domain;
            startDomain.Clear();
            startDomain.AddRange(union.FlattenedIntervals());
            foreach (var (chosen, ranges) in choices)
                if (choices.Count > 1)
                    Cp.AddLinearExpressionInDomain(activity.Start, DomainOf(ranges)).OnlyEnforceIf(chosen);
        }
    }

    private static Google.OrTools.Util.Domain DomainOf(List<(long From, long To)> ranges) =>
        Google.OrTools.Util.Domain.FromIntervals([.. ranges.Select(range => new[] { range.From, range.To })]);
}
