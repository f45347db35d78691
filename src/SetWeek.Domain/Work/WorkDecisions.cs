using OneOf;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Showings;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Work;

/// <summary>The decision to record a report of work.</summary>
public static class WorkDecisions
{
    /// <summary>
    /// Records a report of work. A report is a fact, so neither the version of the week nor the order of arrival matters. It is
    /// refused only if it names something unknown, if its id has another content, if no plan is published, or if somebody says
    /// that work begins although a gate is not good, or on a display that must be shown before and was not.
    /// </summary>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> TakeReport(this StoreWeek week, IWorkReport report)
    {
        if (UnknownReference(week, report) is { } refusal) return refusal;
        if (AnswerDecisions.Refused(week, report) is { } answered) return answered;
        if (week.Published is null)
            return new Refusal(
                "nothing-published", "No plan of this week is published yet, so no work can be reported. Publish a plan first.");
        if (week.Recorded(report).TryPickT1(out var used, out var recorded)) return used;
        // A start that is recorded stays recorded, whatever was taken back since.
        if (recorded is null) return Array.Empty<IWeekEvent>();
        return ShowingDecisions.NotShown(week, recorded) is { } notShown ? notShown : new IWeekEvent[] { recorded };
    }

    /// <summary>Stops the work of a zone or of the whole store in a night, because it is not safe.</summary>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Stop(this StoreWeek week, WorkStopped stop)
    {
        if (Night(week, stop.Night) is { } unknown) return unknown;
        if (stop.Zone is { } zone && week.Week.Store.Zones.All(known => known.Id != zone))
            return Unknown("zone", $"There is no zone \"{zone}\" in this store.");
        return week.Recorded(stop).MapT0(IReadOnlyList<IWeekEvent> (recorded) => recorded is null ? [] : [recorded]);
    }

    /// <param name="by">The id of the lead who found it safe again.</param>
    public static OneOf<StopLifted, Refusal> Lift(this StoreWeek week, string stop, string by)
    {
        if (!week.Stops.ContainsKey(stop)) return Refusal.NotFound("stop", stop);
        return week.LiftedStops.Contains(stop) ? new Refusal("lifted-already", "This stop is already lifted.")
            : new StopLifted(stop, by);
    }

    private static Refusal? UnknownReference(StoreWeek week, IWorkReport report) => UnknownSubject(week, report)
        ?? (report.People?.FirstOrDefault(person => !week.Crew.Contains(person)) is { } stranger
            ? Unknown("person", $"\"{stranger}\" does not belong to the crew of this week. Add the person to the crew first.")
            : null);

    private static Refusal? UnknownSubject(StoreWeek week, IWorkReport report) => report switch
    {
        WorkStarted start => Task(week, start.Task, start.Stint) ?? Night(week, start.Night),
        WorkFinished finish => Task(week, finish.Task, finish.Stint) ?? Night(week, finish.Night),
        ChecksFailed failed => Task(week, failed.Task, failed.Stint) ?? Night(week, failed.Night),
        CleanDownStarted start => Zone(week, start.Zone) ?? Night(week, start.Night),
        CleanDownFinished finish => Zone(week, finish.Zone) ?? Night(week, finish.Night),
        WorkResumed resumed => Task(week, resumed.Task, resumed.Stint) ?? Night(week, resumed.Night),
        WorkProgressed progress => Task(week, progress.Task, progress.Stint),
        WorkPaused pause => Task(week, pause.Task, pause.Stint),
        WorkBlocked block => Task(week, block.Task, block.Stint),
        WorkReopened reopened => Task(week, reopened.Task, reopened.Stint),
        _ => throw new ArgumentException($"Reports of type {report.GetType().Name} are not supported.", nameof(report)),
    };

    private static Refusal? Task(StoreWeek week, string id, int stint) =>
        week.Week.Tasks.FirstOrDefault(task => task.Id == id) switch
    {
        null => Unknown("task", $"There is no task \"{id}\" in this week."),
        var task when stint > task.Stints =>
            Unknown("stint",
                $"“{task.Name}” has {task.Stints} {(task.Stints == 1 ? "part" : "parts")}; there is no part {stint}."),
        _ => null,
    };

    private static Refusal? Night(StoreWeek week, string id) =>
        week.Week.Nights.Any(night => night.Id == id) ? null : Unknown("night", $"There is no night \"{id}\" in this week.");

    private static Refusal? Zone(StoreWeek week, string id) => week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == id) switch
    {
        null => Unknown("zone", $"There is no zone \"{id}\" in this store."),
        { CleanDown: null } zone => Unknown("clean-down", $"{zone.Name} has no clean-down."),
        _ => null,
    };

    private static Refusal Unknown(string kind, string sentence) => new($"unknown-{kind}", sentence);
}
