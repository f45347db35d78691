using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>Start times from First to Last, both included, in minutes.</summary>
internal readonly record struct StartRange(int First, int Last);

/// <summary>
/// Start domain of each stint, by mode and night, from the rules that bind it without regard to other work. Every valid plan
/// keeps to it. Rules used: window, grid, ban, kit, launch, due, equipment (the mode's own pieces fit), zone-room (its own
/// people fit), clean-down (one still fits between the stint and closing), skill with availability (enough eligible people
/// have a shift window for the whole stint), and open-close and two-person through <see cref="CrewShiftWindows"/>.
/// </summary>
internal sealed class StartDomains(Problem problem, CrewShiftWindows shiftWindows)
{
    private readonly Dictionary<(int Task, int Mode, int Minutes), StartRange[][]> rangesByNight = [];
    private readonly Dictionary<(RequiredSkill, string Barred), ulong> eligible = [];
    private readonly Dictionary<string, int> teamIds = [];
    private readonly Dictionary<(int Team, int Minutes, int Night), Span[]> staffableStarts = [];

    public IReadOnlyList<StartRange> RangesOf(Stint stint, int mode, int night)
    {
        var minutes = problem.MinutesOf(stint, mode);
        if (!rangesByNight.TryGetValue((stint.Task.Index, mode, minutes), out var byNight))
            rangesByNight[(stint.Task.Index, mode, minutes)] = byNight =
                [.. problem.Nights.Select(each => ComputeRanges(stint.Task, stint.Task.Modes[mode], minutes, each).ToArray())];
        return byNight[night];
    }

    /// <summary>The modes in which a stint may be done: all modes of its task, or the one that blocked work keeps.</summary>
    public IEnumerable<int> AllowedModes(Stint stint) => problem.Facts?.FixedModes[stint.Index] is { } fixedMode
        ? [fixedMode] : Enumerable.Range(0, stint.Task.Modes.Count);

    /// <summary>The people who can fill a skill requirement of a task, as a bit set; task null: of a clean-down.</summary>
    public static ulong Eligible(Problem problem, RequiredSkill requirement, IndexedTask? task) => problem.Crew
        .Where(person => person.Meets(requirement) && (task is null || !person.BarredTraits.Any(task.Traits.Contains)))
        .Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);

    private IEnumerable<StartRange> ComputeRanges(IndexedTask task, ActivityMode activityMode, int minutes, NightWindow night)
    {
        if (activityMode.Equipment.GroupBy(use => use.Equipment)
            .Any(uses => uses.Sum(use => use.Count) > problem.EquipmentCapacities[uses.Key])
            || activityMode.People > problem.Zones[task.Zone].MaxPeople) yield break;
        var first = Math.Max(night.Opens, task.Release);
        var end = Math.Min(night.Closes, Math.Min(problem.BindingLaunch(task), problem.BindingDue(task)));
        if (problem.CleanDownAfter(task) is { } cleanDown && !shiftWindows.HasBegun(night.Index))
            end = Math.Min(end, LatestWorkEnd(cleanDown, night));
        IEnumerable<Span> free = [new(first, end)];
        foreach (var ban in night.Bans.Where(ban => task.Traits.Contains(ban.Trait)))
            free = free.SelectMany(span =>
                (Span[])[span with { To = Math.Min(span.To, ban.Span.From) },
                    span with { From = Math.Max(span.From, ban.Span.To) }]);
        if (activityMode.People > 0) free = StaffableSpans(task, activityMode, minutes, night.Index, free);
        foreach (var span in free)
        {
            var range = new StartRange(problem.NextSlot(night.Index, span.From), span.To - minutes);
            if (span.From < span.To && range.First <= range.Last)
                yield return range with { Last =
                    range.First + (range.Last - range.First) / problem.Grid.SlotMinutes * problem.Grid.SlotMinutes };
        }
    }

    /// <summary>
    /// The latest end of work in a zone that leaves time for its clean-down; before the night opens where none fits.
    /// </summary>
    private int LatestWorkEnd(ActivityMode cleanDown, NightWindow night)
    {
        var closes = Math.Min(night.Closes, problem.BindingLaunch(null));
        if (cleanDown.People == 0) return closes - cleanDown.Minutes;
        var spans = StaffableSpans(null, cleanDown, cleanDown.Minutes, night.Index, [new(night.Opens, closes)]).ToArray();
        return spans.Length == 0 ? night.Opens - 1 : spans.Max(span => span.To) - cleanDown.Minutes;
    }

    /// <summary>
    /// The parts of the given spans in which a piece of work of the given length can be staffed: every skill requirement is
    /// filled by people who can work for its whole length.
    /// </summary>
    private IEnumerable<Span> StaffableSpans(
        IndexedTask? task, ActivityMode activityMode, int minutes, int night, IEnumerable<Span> free)
    {
        var requirements = activityMode.RequiredSkills
            .Select(requirement => (Bits: EligibleFor(requirement, task), requirement.People)).ToArray();
        var key = string.Join(' ', requirements);
        if (!teamIds.TryGetValue(key, out var team)) team = teamIds[key] = teamIds.Count;
        if (!staffableStarts.TryGetValue((team, minutes, night), out var starts))
            staffableStarts[(team, minutes, night)] = starts = StaffableStarts(requirements, minutes, night);
        return SpanSets.Intersect([.. free.Where(span => span.Minutes >= minutes)
            .Select(span => new Span(span.From, span.To - minutes + 1))], starts)
            .Select(start => start with { To = start.To - 1 + minutes });
    }

    private ulong EligibleFor(RequiredSkill requirement, IndexedTask? task)
    {
        var barred = task is null || problem.Rules.Under18 is not { } young ? ""
            : string.Join(' ', young.Barred.Where(task.Traits.Contains));
        if (eligible.TryGetValue((requirement, barred), out var bits)) return bits;
        return eligible[(requirement, barred)] = Eligible(problem, requirement, task);
    }

    /// <summary>
    /// The minutes at which work of the given length can start with every requirement filled. Between two consecutive
    /// breakpoints the set of people who can start does not change, so one test is enough.
    /// </summary>
    private Span[] StaffableStarts((ulong Bits, int People)[] requirements, int minutes, int night)
    {
        var anyEligible = requirements.Aggregate(0UL, (bits, requirement) => bits | requirement.Bits);
        var starts = problem.Crew.Where(person => (anyEligible >> person.Index & 1) == 1)
            .SelectMany(person => SpanSets.Intersect(
                [.. shiftWindows.WindowsOf(person.Index, night).Select(window => window.Span)], shiftWindows.WorkSpans(night))
                .Where(span => span.Minutes >= minutes)
                .Select(span => (Person: person.Index, First: span.From, Last: span.To - minutes)))
            .ToArray();
        var breakpoints = starts.SelectMany(start => (int[])[start.First, start.Last + 1]).Distinct().Order().ToArray();
        var found = new List<Span>();
        for (var index = 0; index + 1 < breakpoints.Length; index++)
        {
            var (from, to) = (breakpoints[index], breakpoints[index + 1]);
            var present = starts.Where(start => start.First <= from && from <= start.Last)
                .Aggregate(0UL, (bits, start) => bits | 1UL << start.Person);
            if (HallConditionHolds(requirements, present)) found.Add(new(from, to));
        }
        return SpanSets.Union(found);
    }

    /// <summary>
    /// Hall's condition: for every subset of the requirements, at least as many eligible people are present as it needs. Only
    /// the first ten requirements are tested, which is sound and bounds the number of subsets.
    /// </summary>
    private static bool HallConditionHolds((ulong Bits, int People)[] requirements, ulong present)
    {
        for (var subset = 1; subset < 1 << Math.Min(10, requirements.Length); subset++)
        {
            var (bits, needed) = (0UL, 0);
            for (var index = 0; index < requirements.Length; index++)
                if ((subset >> index & 1) == 1)
                    (bits, needed) = (bits | requirements[index].Bits, needed + requirements[index].People);
            if (System.Numerics.BitOperations.PopCount(bits & present) < needed) return false;
        }
        return true;
    }
}
