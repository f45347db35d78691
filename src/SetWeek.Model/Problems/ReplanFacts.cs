using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Model.Problems;

/// <summary>
/// What a re-plan cannot change: the published plan, the current minute, and the reported progress. Begun work takes its mode
/// from the published plan, its times from the report, and its people from the report where it names them.
/// docs/decisions/replan-reading.md records how open cases of the definition are read.
/// </summary>
public sealed record ReplanFacts
{
    /// <summary>Current minute, rounded up. Nothing new is planned to start before it.</summary>
    public required int Now { get; init; }

    /// <summary>
    /// The published plan, less what the week no longer has, and with the people who really did begun work.
    /// </summary>
    public required Schedule Published { get; init; }

    /// <summary>
    /// By stint index: work that is done or running, with its actual or expected times; null if the stint is planned anew.
    /// </summary>
    public required IReadOnlyList<ScheduledWork?> BegunWork { get; init; }

    /// <summary>
    /// By stint index: true if its work began before now, also if what remains of it is planned anew because it was blocked, or
    /// all of it because it was reopened.
    /// </summary>
    public required IReadOnlyList<bool> HasBegun { get; init; }

    /// <summary>Clean-downs that are done or running, with their actual or expected times.</summary>
    public required IReadOnlyList<ScheduledWork> BegunCleanDowns { get; init; }

    /// <summary>
    /// By stint index: minute before which blocked work may not start. It is <see cref="Problem.Never"/> if that time is
    /// unknown and minus <see cref="Problem.Never"/> if the work is not blocked.
    /// </summary>
    public required IReadOnlyList<int> EarliestStarts { get; init; }

    /// <summary>By stint index: the mode that blocked work keeps because it had begun; null if the mode is free.</summary>
    public required IReadOnlyList<int?> FixedModes { get; init; }

    /// <summary>
    /// By stint index: minutes that remain of blocked work, rounded up to the grid; null means the whole stint.
    /// </summary>
    public required IReadOnlyList<int?> RemainingMinutes { get; init; }

    /// <summary>By display index: true if its work has begun, so that the plan must build it.</summary>
    public required IReadOnlyList<bool> StaysPlaced { get; init; }

    /// <summary>
    /// By person and night, for shifts under way: first minute of the shift grid at which the shift can end. By then a begun
    /// break and the person's running work have ended.
    /// </summary>
    public required IReadOnlyDictionary<(int Person, int Night), int> EarliestEnds { get; init; }

    /// <summary>
    /// Pairs of night and zone whose clean-down begun work delays so much that it ends before closes, but leaves too little
    /// time for the keyholder's closing after it.
    /// </summary>
    public required IReadOnlySet<(int Night, int Zone)> LateCleanDowns { get; init; }

    /// <summary>Published shifts that are over. A re-plan keeps them unchanged.</summary>
    public IEnumerable<ScheduledShift> EndedShifts => Published.Shifts.Where(shift => shift.To <= Now);

    /// <summary>
    /// Published shifts under way. A re-plan keeps their start and a begun break, and ends them at or after now.
    /// </summary>
    public IEnumerable<ScheduledShift> BegunShifts => Published.Shifts.Where(shift => shift.From < Now && shift.To > Now);

    /// <summary>
    /// The published plan with the actual times of begun work. If it keeps the rules, nothing has to change.
    /// </summary>
    public Schedule PublishedWithActuals => Published with
    {
        Work = [.. Published.Work.Select(work => (work.Stint is { } stint ? BegunWork[stint]
            : BegunCleanDowns.FirstOrDefault(begun => begun.Zone == work.Zone && begun.Night == work.Night)) ?? work)],
    };

    internal static ReplanFacts Of(Problem problem, Replan replan)
    {
        var count = problem.Stints.Count;
        var now = MinuteOf(problem, replan.Now);
        var reports = LastReports(problem, replan.Progress);
        var reportedCleanDowns = LastCleanDowns(problem, replan.Progress);
        var published = ReportedPeople.Apply(
            problem, PlanConverter.ScheduleOf(problem, replan.Published), now, reports, reportedCleanDowns);
        var planned = published.WorkByStint(problem);
        var (begun, earliestStarts) = (new ScheduledWork?[count], Enumerable.Repeat(-Problem.Never, count).ToArray());
        var (fixedModes, remaining) = (new int?[count], new int?[count]);
        var (hasBegun, staysPlaced) = (new bool[count], new bool[problem.Displays.Count]);

        foreach (var (stint, report) in reports)
        {
            var started = report.From is { } from ? problem.Grid.MinuteOf(from) < now : report.State == WorkState.Done;
            if (report.State is WorkState.Done or WorkState.Running)
            {
                // Work that the plan has in a night or a mode which the week has no longer is planned anew.
                if (!started || planned[stint] is not { } begins) continue;
                begun[stint] = ActualWork(problem, now, report, begins);
            }
            if (report.State == WorkState.Blocked)
            {
                earliestStarts[stint] = report.Until is { } until ? problem.Grid.MinuteOf(until) : Problem.Never;
                if (!started || planned[stint] is not { } interrupted) continue;
                fixedModes[stint] = interrupted.Mode;
                remaining[stint] = report.RemainingMinutes is { } left ? problem.Grid.RoundUp(left) : null;
            }
            hasBegun[stint] = true;
            // Reopened work has begun too: a failed check does not remove a half-built display.
            staysPlaced[problem.Stints[stint].Task.Display] = true;
        }
        var cleanDowns = FindBegunCleanDowns(problem, now, reportedCleanDowns, published);
        return new ReplanFacts
        {
            Now = now, Published = published, BegunWork = begun, HasBegun = hasBegun, BegunCleanDowns = cleanDowns,
            EarliestStarts = earliestStarts, FixedModes = fixedModes, RemainingMinutes = remaining, StaysPlaced = staysPlaced,
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

    /// <summary>By stint index: its last report. Reports on work that the week has no longer are skipped.</summary>
    private static Dictionary<int, ProgressReport> LastReports(Problem problem, IReadOnlyList<ProgressReport> progress)
    {
        var last = new Dictionary<int, ProgressReport>();
        foreach (var report in progress)
            if (report.Task is { } id && problem.HasTask(id) && problem.Tasks[problem.TaskOf(id)] is var task
                && report.Stint >= 1 && report.Stint <= task.StintCount)
                last[task.FirstStint + report.Stint - 1] = report;
        return last;
    }

    /// <summary>By night and zone: the last report of its clean-down.</summary>
    private static Dictionary<(int Night, int Zone), ProgressReport> LastCleanDowns(
        Problem problem, IReadOnlyList<ProgressReport> progress)
    {
        var last = new Dictionary<(int Night, int Zone), ProgressReport>();
        foreach (var report in progress)
            if (report is { CleanDown: { } zone, Night: { } night } && problem.HasZone(zone) && problem.HasNight(night))
                last[(problem.NightOf(night), problem.ZoneOf(zone))] = report;
        return last;
    }

    private static List<ScheduledWork> FindBegunCleanDowns(Problem problem, int now,
        IReadOnlyDictionary<(int Night, int Zone), ProgressReport> reports, Schedule published) =>
        [.. from pair in reports
            let planned = published.Work.FirstOrDefault(work => work.IsCleanDown && (work.Night, work.Zone) == pair.Key)
            where planned is not null
            let work = ActualCleanDown(problem, now, pair.Value, planned)
            where work is not null
            select work];

    /// <returns>A planned clean-down with its actual or expected times; null if it has not begun.</returns>
    internal static ScheduledWork? ActualCleanDown(Problem problem, int now, ProgressReport report, ScheduledWork planned) =>
        report.State is WorkState.Done or WorkState.Running
        && InItsNight(problem, now, planned.Night, report.State, ActualWork(problem, now, report, planned)) is { } work
        && work.From < now ? work : null;

    /// <summary>
    /// A clean-down with times in its own night, whatever times were reported. One that nobody finished ends with its night: the
    /// shop was open since.
    /// </summary>
    /// <returns>Null if it was reported in an earlier night, so that it cannot have begun.</returns>
    private static ScheduledWork? InItsNight(Problem problem, int now, int index, WorkState state, ScheduledWork work)
    {
        var night = problem.Nights[index];
        if (problem.Nights.Take(index).Any(earlier => earlier.Opens <= work.From && work.From < earlier.Closes)) return null;
        var late = work.From >= night.Closes;
        var from = late ? night.Closes - 1 : Math.Max(work.From, night.Opens);
        var to = late ? night.Closes
            : state == WorkState.Running && night.Closes <= now ? Math.Min(work.To, night.Closes) : work.To;
        return work with { Night = index, From = from, To = Math.Max(to, from + 1) };
    }

    /// <summary>
    /// Planned work with its reported times. Running work without a reported end lasts its remaining minutes, or else its
    /// planned length; an end that is past moves to the first slot from now on.
    /// </summary>
    private static ScheduledWork ActualWork(Problem problem, int now, ProgressReport report, ScheduledWork planned)
    {
        var from = report.From is { } start ? problem.Grid.MinuteOf(start) : planned.From;
        // The reported start decides in which night the work was done.
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
            if (work.Night == shift.Night && work.Assignments.Any(assignment => assignment.Person == shift.Person))
                end = Math.Max(end, work.To);
        return problem.NextShiftSlot(shift.Night, end);
    }
}
