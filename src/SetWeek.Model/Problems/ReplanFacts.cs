using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Model.Problems;

/// <summary>
/// A re-plan's view of what cannot be changed: the published plan, the minute it is now, and what the floor has reported.
/// Begun work keeps its people and mode from the published plan and its times from the report. Where the planning problem
/// leaves a reading open, docs/decisions/replan-reading.md says which was taken.
/// </summary>
public sealed record ReplanFacts
{
    /// <summary>Rounded up to the minute: nothing new starts before it.</summary>
    public required int Now { get; init; }

    public required Schedule Published { get; init; }

    /// <summary>By stint index: work done or running, as it was or as it will end; null where nothing of it stays.</summary>
    public required IReadOnlyList<ScheduledWork?> BegunWork { get; init; }

    public required IReadOnlyList<ScheduledWork> BegunCleanDowns { get; init; }

    /// <summary>
    /// By stint index: minute before which it may not start; <see cref="Problem.Never"/>: it cannot be planned.
    /// </summary>
    public required IReadOnlyList<int> EarliestStarts { get; init; }

    /// <summary>By stint index: the mode that blocked work keeps, begun once already; null: free.</summary>
    public required IReadOnlyList<int?> FixedModes { get; init; }

    /// <summary>By stint index: minutes, on the grid, that remain of blocked work; null: the whole stint.</summary>
    public required IReadOnlyList<int?> RemainingMinutes { get; init; }

    /// <summary>By display: work of it has begun, so it stays placed.</summary>
    public required IReadOnlyList<bool> StaysPlaced { get; init; }

    /// <summary>
    /// By person and night, for shifts under way: the first moment on the shift grid at which it can end, now past, a begun
    /// break over and the person's running work done.
    /// </summary>
    public required IReadOnlyDictionary<(int Person, int Night), int> EarliestEnds { get; init; }

    /// <summary>
    /// By night and zone: clean-downs that begun work makes so late that, though they fit in before closes, the closing time
    /// does not fit in after them.
    /// </summary>
    public required IReadOnlySet<(int Night, int Zone)> LateCleanDowns { get; init; }

    /// <summary>Over: stay whole.</summary>
    public IEnumerable<ScheduledShift> EndedShifts => Published.Shifts.Where(shift => shift.To <= Now);

    /// <summary>Under way: keep their from, end at or after now; a break begun stays.</summary>
    public IEnumerable<ScheduledShift> BegunShifts => Published.Shifts.Where(shift => shift.From < Now && shift.To > Now);

    /// <summary>The published plan with begun work as reported: where it still keeps the rules, nothing has to change.</summary>
    public Schedule PublishedWithActuals => Published with
    {
        Work = [.. Published.Work.Select(work => (work.Stint is { } stint ? BegunWork[stint]
            : BegunCleanDowns.FirstOrDefault(begun => begun.Zone == work.Zone && begun.Night == work.Night)) ?? work)],
    };

    internal static ReplanFacts Of(Problem problem, Replan replan)
    {
        var count = problem.Stints.Count;
        var now = MinuteOf(problem, replan.Now);
        var published = PlanConverter.ScheduleOf(problem, replan.Published);
        var planned = published.WorkByStint(problem);
        var (begun, notBefore) = (new ScheduledWork?[count], Enumerable.Repeat(-Problem.Never, count).ToArray());
        var (keptMode, remaining) = (new int?[count], new int?[count]);
        var staysPlaced = new bool[problem.Displays.Count];

        foreach (var (stint, report) in LastReports(problem, replan.Progress))
        {
            var started = report.From is { } from ? problem.Grid.MinuteOf(from) < now : report.State == WorkState.Done;
            if (report.State is WorkState.Done or WorkState.Running)
            {
                if (!started) continue;
                begun[stint] = ActualWork(problem, now, report, planned[stint]!);
            }
            if (report.State == WorkState.Blocked)
            {
                notBefore[stint] = report.Until is { } until ? problem.Grid.MinuteOf(until) : Problem.Never;
                if (!started) continue;
                keptMode[stint] = planned[stint]!.Mode;
                remaining[stint] = report.RemainingMinutes is { } left ? problem.Grid.RoundUp(left) : null;
            }
            // Reopened work was begun too: half a display is not taken down for a failed check.
            staysPlaced[problem.Stints[stint].Task.Display] = true;
        }
        var cleanDowns = FindBegunCleanDowns(problem, now, replan.Progress, published);
        return new ReplanFacts
        {
            Now = now, Published = published, BegunWork = begun, BegunCleanDowns = cleanDowns,
            EarliestStarts = notBefore, FixedModes = keptMode, RemainingMinutes = remaining, StaysPlaced = staysPlaced,
            LateCleanDowns = FindLateCleanDowns(problem, now, begun).ToHashSet(),
            EarliestEnds = published.Shifts.Where(shift => shift.From < now && shift.To > now)
                .DistinctBy(shift => (shift.Person, shift.Night))
                .ToDictionary(shift => (shift.Person, shift.Night),
                    shift => EarliestEnd(problem, now, shift, [.. begun.OfType<ScheduledWork>(), .. cleanDowns])),
        };
    }

    private static int MinuteOf(Problem problem, LocalDateTime now)
    {
        var minute = problem.Grid.MinuteOf(now);
        return now.Second == 0 && now.NanosecondOfSecond == 0 ? minute : minute + 1;
    }

    /// <summary>Where a stint is reported more than once, the last report stands.</summary>
    private static Dictionary<int, ProgressReport> LastReports(Problem problem, IReadOnlyList<ProgressReport> progress)
    {
        var last = new Dictionary<int, ProgressReport>();
        foreach (var report in progress)
            if (report.Task is { } task) last[problem.Tasks[problem.TaskOf(task)].FirstStint + report.Stint - 1] = report;
        return last;
    }

    private static List<ScheduledWork> FindBegunCleanDowns(Problem problem, int now, IReadOnlyList<ProgressReport> progress, Schedule published)
    {
        var last = new Dictionary<(int Night, int Zone), ProgressReport>();
        foreach (var report in progress)
            if (report.CleanDown is { } zone) last[(problem.NightOf(report.Night!), problem.ZoneOf(zone))] = report;
        return [.. from pair in last
                   where pair.Value.State is WorkState.Done or WorkState.Running
                   let planned = published.Work.First(work => work.IsCleanDown && (work.Night, work.Zone) == pair.Key)
                   let work = ActualWork(problem, now, pair.Value, planned) with { Night = pair.Key.Night }
                   where work.From < now
                   select work];
    }

    /// <summary>
    /// A running stint ends at its reported end, else after what remains, else after its length; never in the past.
    /// </summary>
    private static ScheduledWork ActualWork(Problem problem, int now, ProgressReport report, ScheduledWork planned)
    {
        var from = report.From is { } start ? problem.Grid.MinuteOf(start) : planned.From;
        // Work reported from another night than it was planned for was done in that other night.
        var night = problem.Nights.FirstOrDefault(night => night.Opens <= from && from < night.Closes)?.Index ?? planned.Night;
        var to = report.To is { } end ? problem.Grid.MinuteOf(end)
            : report.State == WorkState.Done ? Math.Min(planned.To, now)
            : report.RemainingMinutes is { } left ? now + left
            : from + planned.To - planned.From;
        if (report.State == WorkState.Running && to < now) to = problem.NextSlot(night, now);
        return planned with { Night = night, From = from, To = to };
    }

    private static IEnumerable<(int, int)> FindLateCleanDowns(Problem problem, int now, ScheduledWork?[] begun)
    {
        if (!problem.Rules.KeyholderPresent || problem.Rules.ClosingMinutes is not { } closing) yield break;
        foreach (var night in problem.Nights)
            foreach (var zone in problem.Zones)
            {
                if (zone.CleanDown is not { } mode || night.Closes <= now) continue;
                var works = begun.OfType<ScheduledWork>().Where(work => work.Night == night.Index && work.Zone == zone.Index
                    && !problem.Stints[work.Stint!.Value].Task.IsLastTask).ToArray();
                if (works.Length == 0) continue;
                var soonest = problem.NextSlot(night.Index, Math.Max(now, works.Max(work => work.To))) + mode.Minutes;
                if (soonest <= night.Closes && soonest + closing > problem.LastShiftSlot(night.Index))
                    yield return (night.Index, zone.Index);
            }
    }

    private static int EarliestEnd(Problem problem, int now, ScheduledShift shift, IReadOnlyList<ScheduledWork> begun)
    {
        var end = shift.Break is { } rest && rest.From < now ? Math.Max(now, rest.To) : now;
        foreach (var work in begun)
            if (work.Night == shift.Night && work.Assignments.Any(assignment => assignment.Person == shift.Person)) end = Math.Max(end, work.To);
        return problem.NextShiftSlot(shift.Night, end);
    }
}
