using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>Converts the status of work into a report as the planner reads it.</summary>
internal static class WorkProgress
{
    /// <summary>The reported work of a plan. Work that the plan or the week does not have counts as not begun.</summary>
    /// <param name="now">Store-local.</param>
    public static IReadOnlyList<ProgressReport> Of(StoreWeek week, Plan published, LocalDateTime now)
    {
        var latest = StoreTime.InstantOf(week, now) - Duration.FromMinutes(1);
        return [.. week.ReportedWork.Statuses.Where(status => IsKnown(week.Week, status.Subject))
            .Select(status => Of(published, status, latest)).OfType<ProgressReport>()];
    }

    private static bool IsKnown(Week week, WorkKey work) => work.Task is { } id
        ? week.Tasks.Any(task => task.Id == id && work.Stint <= task.Stints)
        : week.Nights.Any(night => night.Id == work.Night) && week.Store.Zones.Any(zone => zone.Id == work.CleanDown);

    /// <param name="latest">The last minute before "now": begun work began by then.</param>
    /// <returns>Null for work that is not in the published plan, which counts as not begun.</returns>
    public static ProgressReport? Of(Plan published, WorkStatus status, Instant latest)
    {
        var (night, planned) = (from plannedNight in published.Nights
                                from work in plannedNight.Work
                                where status.Subject.Task is { } task ? work.Task == task && work.Stint == status.Subject.Stint
                                    : work.CleanDown == status.Subject.CleanDown && plannedNight.Night == status.Subject.Night
                                select (plannedNight.Night, work)).FirstOrDefault();
        if (planned is null) return null;
        var from = status.State switch
        {
            WorkState.Done => StartOf(planned, status),
            WorkState.Running => status.From ?? planned.From,
            _ => status.From,
        };
        return new ProgressReport
        {
            Task = status.Subject.Task,
            Stint = status.Subject.Task is null ? 1 : status.Subject.Stint,
            Night = status.Subject.Task is null ? night : null,
            CleanDown = status.Subject.CleanDown,
            State = status.State,
            From = NotAfter(from, latest),
            To = status.State switch
            {
                WorkState.Done => NotAfter(status.To, latest + Duration.FromMinutes(1)),
                WorkState.Running => status.To ?? ExpectedEnd(planned, status),
                _ => status.To,
            },
            RemainingMinutes = status.RemainingMinutes ?? (status.Paused ? Remaining(planned, status) : null),
            Until = status.Until,
            People = status.People ?? [],
        };
    }

    /// <summary>
    /// The start of finished work: as reported, or as planned, or the end minus the planned duration if the planned start is not
    /// before the end. It is at least a minute before the end.
    /// </summary>
    private static OffsetDateTime StartOf(PlannedWork planned, WorkStatus status)
    {
        var end = status.To!.Value;
        var from = status.From ?? (planned.From.ToInstant() < end.ToInstant() ? planned.From : end - (planned.To - planned.From));
        var latest = end.PlusMinutes(-1);
        return from.ToInstant() > latest.ToInstant() ? latest : from;
    }

    /// <summary>
    /// The end of running work of which nobody has said how much is left: from the quantity done, or from the minutes worked
    /// before it was interrupted.
    /// </summary>
    /// <returns>Null if neither is known; the work then lasts as long as planned.</returns>
    private static OffsetDateTime? ExpectedEnd(PlannedWork planned, WorkStatus status) => status switch
    {
        { Quantity: { } quantity } => quantity.At.PlusMinutes(Left(planned, quantity)),
        { WorkedMinutes: > 0, From: { } resumed } => resumed.PlusMinutes(Remaining(planned, status)),
        _ => null,
    };

    /// <summary>The planned minutes less those worked; at least one.</summary>
    private static int Remaining(PlannedWork planned, WorkStatus status) =>
        status.Quantity is { } quantity ? Math.Max(1, Left(planned, quantity))
            : Math.Max(1, PlannedMinutes(planned) - status.WorkedMinutes);

    /// <summary>The share of the planned minutes that belongs to the pieces not done yet, rounded up.</summary>
    private static int Left(PlannedWork planned, QuantityDone quantity) =>
        (PlannedMinutes(planned) * (quantity.Of - quantity.Done) + quantity.Of - 1) / quantity.Of;

    private static int PlannedMinutes(PlannedWork planned) =>
        (int)(planned.To.ToInstant() - planned.From.ToInstant()).TotalMinutes;

    private static OffsetDateTime? NotAfter(OffsetDateTime? time, Instant latest) =>
        time is { } known && known.ToInstant() > latest ? latest.WithOffset(known.Offset) : time;
}
