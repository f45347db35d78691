using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>Starts from First to Last, both included, in minutes.</summary>
internal readonly record struct StartRange(int First, int Last);

/// <summary>
/// When a stint could start by itself, by way and night: what holds for any valid plan whatever else is in it. Used:
/// window, grid, ban, kit, launch, due, equipment (its own pieces fit), zone-room (its own people fit), clean-down (one
/// still fits between it and the closes), skill with availability (enough people have room for all of it at once), and
/// open-close and two-person through <see cref="CrewShiftWindows"/>.
/// </summary>
internal sealed class StartDomains(Problem problem, CrewShiftWindows shiftWindows)
{
    private readonly Dictionary<(int Activity, int Mode, int Minutes), StartRange[][]> rangesByNight = [];
    private readonly Dictionary<(RequiredSkill, string Barred), ulong> eligible = [];
    private readonly Dictionary<string, int> teamIds = [];
    private readonly Dictionary<(int Team, int Minutes, int Night), Span[]> staffableStarts = [];

    public IReadOnlyList<StartRange> RangesOf(Stint stint, int mode, int night)
    {
        var minutes = problem.MinutesOf(stint, mode);
        if (!rangesByNight.TryGetValue((stint.Task.Index, mode, minutes), out var byNight))
            rangesByNight[(stint.Task.Index, mode, minutes)] = byNight =
                [.. problem.Nights.Select(window => ComputeRanges(stint.Task, stint.Task.Modes[mode], minutes, window).ToArray())];
        return byNight[night];
    }

    /// <summary>Ways that a stint may be done in at all.</summary>
    public IEnumerable<int> AllowedModes(Stint stint) => problem.Facts?.FixedModes[stint.Index] is { } kept
        ? [kept] : Enumerable.Range(0, stint.Task.Modes.Count);

    /// <summary>People who may fill a post of a task, as bits.</summary>
    public static ulong Eligible(Problem problem, RequiredSkill requirement, IndexedTask? task) => problem.Crew
        .Where(person => person.Meets(requirement) && (task is null || !person.BarredTraits.Any(task.Traits.Contains)))
        .Aggregate(0UL, (bits, person) => bits | 1UL << person.Index);

    private IEnumerable<StartRange> ComputeRanges(IndexedTask task, ActivityMode activityMode, int minutes, NightWindow night)
    {
        if (activityMode.Equipment.GroupBy(use => use.Equipment)
            .Any(uses => uses.Sum(use => use.Count) > problem.EquipmentCapacities[uses.Key])
            || activityMode.People > problem.Zones[task.Zone].MaxPeople) yield break;
        var first = Math.Max(night.Opens, task.Release);
        var end = Math.Min(Math.Min(night.Closes, DeadlineOrNever(problem.Launch)), DeadlineOrNever(task.Due));
        if (!task.IsLastTask && problem.Zones[task.Zone].CleanDown is { } down && !shiftWindows.HasBegun(night.Index))
            end = Math.Min(end, LatestWorkEnd(down, night));
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

    /// <summary>A due or a launch that has passed binds nothing any more: what is late is a fact, and is planned on.</summary>
    private int DeadlineOrNever(int minute) => problem.Facts is { } facts && minute <= facts.Now ? Problem.Never : minute;

    /// <summary>
    /// The minute by which work in a zone ends so that a clean-down still fits; before the night opens where none fits.
    /// </summary>
    private int LatestWorkEnd(ActivityMode cleanDown, NightWindow night)
    {
        var closes = Math.Min(night.Closes, DeadlineOrNever(problem.Launch));
        if (cleanDown.People == 0) return closes - cleanDown.Minutes;
        var spans = StaffableSpans(null, cleanDown, cleanDown.Minutes, night.Index, [new(night.Opens, closes)]).ToArray();
        return spans.Length == 0 ? night.Opens - 1 : spans.Max(span => span.To) - cleanDown.Minutes;
    }

    /// <summary>
    /// The parts of the given spans where all posts can be filled at once by people with room for the whole length.
    /// </summary>
    private IEnumerable<Span> StaffableSpans(IndexedTask? task, ActivityMode activityMode, int minutes, int night, IEnumerable<Span> free)
    {
        var posts = activityMode.RequiredSkills.Select(post => (Bits: EligibleFor(post, task), post.People)).ToArray();
        var key = string.Join(' ', posts);
        if (!teamIds.TryGetValue(key, out var team)) team = teamIds[key] = teamIds.Count;
        if (!staffableStarts.TryGetValue((team, minutes, night), out var whole)) staffableStarts[(team, minutes, night)] = whole =
            StaffableStarts(posts, minutes, night);
        return SpanSets.Intersect([.. free.Where(span => span.Minutes >= minutes)
            .Select(span => new Span(span.From, span.To - minutes + 1))], whole)
            .Select(starting => starting with { To = starting.To - 1 + minutes });
    }

    private ulong EligibleFor(RequiredSkill requirement, IndexedTask? task)
    {
        var barred = task is null || problem.Rules.Under18 is not { } young ? ""
            : string.Join(' ', young.Barred.Where(task.Traits.Contains));
        if (eligible.TryGetValue((requirement, barred), out var bits)) return bits;
        return eligible[(requirement, barred)] = Eligible(problem, requirement, task);
    }

    /// <summary>Minutes at which so long a piece could start with all posts filled.</summary>
    private Span[] StaffableStarts((ulong Bits, int People)[] requirements, int minutes, int night)
    {
        var anyone = requirements.Aggregate(0UL, (bits, post) => bits | post.Bits);
        var starts = problem.Crew.Where(person => (anyone >> person.Index & 1) == 1)
            .SelectMany(person => SpanSets.Intersect([.. shiftWindows.WindowsOf(person.Index, night).Select(room => room.Span)], shiftWindows.WorkSpans(night))
                .Where(span => span.Minutes >= minutes)
                    .Select(span => (Person: person.Index, First: span.From, Last: span.To - minutes)))
            .ToArray();
        var edges = starts.SelectMany(start => (int[])[start.First, start.Last + 1]).Distinct().Order().ToArray();
        var whole = new List<Span>();
        for (var edge = 0; edge + 1 < edges.Length; edge++)
        {
            var here = starts.Where(start => start.First <= edges[edge] && edges[edge] <= start.Last)
                .Aggregate(0UL, (bits, start) => bits | 1UL << start.Person);
            if (HallConditionHolds(requirements, here)) whole.Add(new(edges[edge], edges[edge + 1]));
        }
        return SpanSets.Union(whole);
    }

    /// <summary>
    /// Hall's condition: every group of posts (of the first ten, if they are more) finds as many people as it wants.
    /// </summary>
    private static bool HallConditionHolds((ulong Bits, int People)[] requirements, ulong present)
    {
        for (var group = 1; group < 1 << Math.Min(10, requirements.Length); group++)
        {
            var (bits, wanted) = (0UL, 0);
            for (var post = 0; post < requirements.Length; post++)
                if ((group >> post & 1) == 1) (bits, wanted) = (bits | requirements[post].Bits, wanted + requirements[post].People);
            if (System.Numerics.BitOperations.PopCount(bits & present) < wanted) return false;
        }
        return true;
    }
}
