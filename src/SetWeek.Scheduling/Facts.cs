namespace SetWeek.Scheduling;

/// <summary>
/// A re-plan's view of what cannot be changed: the published plan, the minute it is now, and what the floor has reported.
/// Begun work keeps its people and mode from the published plan and its times from the report.
/// </summary>
public sealed record Facts
{
    public required int Now { get; init; }
    public required Schedule Published { get; init; }

    /// <summary>By stint index: work done or running, as it was or as it will end; null where nothing of it stays.</summary>
    public required IReadOnlyList<Work?> Begun { get; init; }

    public required IReadOnlyList<Work> BegunCleanDowns { get; init; }

    /// <summary>By stint index: minute before which it may not start; <see cref="Problem.Never"/>: it cannot be planned.</summary>
    public required IReadOnlyList<int> NotBefore { get; init; }

    /// <summary>By stint index: the mode that blocked work keeps, begun once already; null: free.</summary>
    public required IReadOnlyList<int?> KeptMode { get; init; }

    /// <summary>By stint index: minutes, on the grid, that remain of blocked work; null: the whole stint.</summary>
    public required IReadOnlyList<int?> Remaining { get; init; }

    /// <summary>By display: work of it has begun, so it stays placed.</summary>
    public required IReadOnlyList<bool> StaysPlaced { get; init; }

    /// <summary>Over: stay whole.</summary>
    public IEnumerable<Shift> EndedShifts => Published.Shifts.Where(shift => shift.To <= Now);

    /// <summary>Under way: keep their from, end at or after now; a break begun stays.</summary>
    public IEnumerable<Shift> BegunShifts => Published.Shifts.Where(shift => shift.From < Now && shift.To > Now);

    internal static Facts Of(Problem problem, Replan replan)
    {
        var count = problem.Stints.Count;
        var now = problem.Grid.MinuteOf(replan.Now);
        var published = PlanTimes.ScheduleOf(problem, replan.Published);
        var planned = published.Work.Where(work => work.Stint is not null).ToDictionary(work => work.Stint!.Value);
        var (begun, notBefore) = (new Work?[count], Enumerable.Repeat(-Problem.Never, count).ToArray());
        var (keptMode, remaining) = (new int?[count], new int?[count]);
        var staysPlaced = new bool[problem.Displays.Count];
        var cleanDowns = new List<Work>();

        foreach (var report in replan.Progress)
        {
            if (report.CleanDown is { } zone)
            {
                if (report.State is WorkState.Done or WorkState.Running)
                    cleanDowns.Add(AsReported(problem, now, report, published.Work.First(work =>
                        work.IsCleanDown && work.Zone == problem.ZoneOf(zone) && work.Night == problem.NightOf(report.Night!))));
                continue;
            }
            var stint = problem.Activities[problem.TaskOf(report.Task!)].FirstStint + report.Stint - 1;
            switch (report.State)
            {
                case WorkState.Done or WorkState.Running:
                    begun[stint] = AsReported(problem, now, report, planned[stint]);
                    break;
                case WorkState.Blocked:
                    notBefore[stint] = report.Until is { } until ? problem.Grid.MinuteOf(until) : Problem.Never;
                    if (report.From is null) continue;
                    keptMode[stint] = planned[stint].Mode;
                    remaining[stint] = report.RemainingMinutes is { } left ? problem.Grid.Up(left) : null;
                    break;
            }
            // Reopened work was begun too: half a display is not taken down for a failed check.
            staysPlaced[problem.Stints[stint].Task.Display] = true;
        }
        return new Facts
        {
            Now = now, Published = published, Begun = begun, BegunCleanDowns = cleanDowns,
            NotBefore = notBefore, KeptMode = keptMode, Remaining = remaining, StaysPlaced = staysPlaced,
        };
    }

    /// <summary>A running stint ends at its reported end, else after what remains, else after its length; never in the past.</summary>
    private static Work AsReported(Problem problem, int now, Progress report, Work planned)
    {
        var from = report.From is { } start ? problem.Grid.MinuteOf(start) : planned.From;
        var to = report.To is { } end ? problem.Grid.MinuteOf(end)
            : report.State == WorkState.Done ? planned.To
            : report.RemainingMinutes is { } left ? now + left
            : from + planned.To - planned.From;
        if (report.State == WorkState.Running && to < now) to = problem.NextSlot(planned.Night, now);
        return planned with { From = from, To = to };
    }
}
