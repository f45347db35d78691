using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Work;

/// <summary>The decision to record a report of work.</summary>
public static class WorkDecisions
{
    /// <summary>
    /// Records a report of work. A report is a fact, so neither the version of the week nor the order of arrival matters. It is
    /// refused only if it names something unknown, or if no plan is published.
    /// </summary>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> TakeReport(this StoreWeek week, IWorkReport report)
    {
        if (UnknownReference(week, report) is { } refusal) return refusal;
        if (week.Published is null)
            return new Refusal(
                "nothing-published", "No plan of this week is published yet, so no work can be reported. Publish a plan first.");
        return week.Reports.Contains(report.Report) ? Array.Empty<IWeekEvent>() : new IWeekEvent[] { report };
    }

    private static Refusal? UnknownReference(StoreWeek week, IWorkReport report) => report switch
    {
        WorkStarted start => Task(week, start.Task, start.Stint) ?? Night(week, start.Night),
        WorkFinished finish => Task(week, finish.Task, finish.Stint) ?? Night(week, finish.Night),
        CleanDownStarted start => Zone(week, start.Zone) ?? Night(week, start.Night),
        CleanDownFinished finish => Zone(week, finish.Zone) ?? Night(week, finish.Night),
        WorkBlocked block => Task(week, block.Task, block.Stint),
        WorkReopened reopened => Task(week, reopened.Task, reopened.Stint),
        _ => throw new ArgumentException($"Reports of type {report.GetType().Name} are not supported.", nameof(report)),
    };

    private static Refusal? Task(StoreWeek week, string id, int stint) =>
        week.Week.Tasks.FirstOrDefault(task => task.Id == id) switch
    {
        null => Unknown("task", $"There is no task \"{id}\" in this week."),
        var task when stint > task.Stints =>
            Unknown("stint", $"{task.Name} has {task.Stints} {(task.Stints == 1 ? "part" : "parts")}; there is no part {stint}."),
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
