using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>
/// Reads reported work as a plan has it, where both agree within a tolerance. Work that began some minutes late, by the people of
/// the plan, is work as planned: it changes nothing that the plan says of the rest.
/// </summary>
public static class AgreedProgress
{
    /// <summary>How far a reported time may be from the planned one and still agree with it.</summary>
    public const int ToleranceMinutes = 10;

    private static readonly Duration Tolerance = Duration.FromMinutes(ToleranceMinutes);

    /// <param name="plan">The plan that may agree with the reports.</param>
    /// <param name="published">The plan by which the store worked: its people did the work, unless a report names others.</param>
    /// <param name="now">The current time.</param>
    /// <returns>The reports, each with the planned times in place of those that agree with them.</returns>
    public static IReadOnlyList<ProgressReport> Of(
        Plan plan, Plan published, IReadOnlyList<ProgressReport> progress, Instant now) =>
        [.. progress.Select(report =>
            WorkOf(plan, report) is { } planned && SamePeople(planned, report, WorkOf(published, report))
                ? AsPlanned(planned, report, now) : report)];

    /// <summary>
    /// The reports, and for work without one that it went as planned: it is done if it should have ended by now, and running if
    /// it should have begun.
    /// </summary>
    public static IReadOnlyList<ProgressReport> WithUnreported(Plan plan, IReadOnlyList<ProgressReport> progress, Instant now)
    {
        var reported = progress.Select(KeyOf).ToHashSet();
        var begun = from night in plan.Nights
                    from work in night.Work
                    where work.From.ToInstant() < now
                    let report = new ProgressReport
                    {
                        Task = work.Task, Stint = work.Stint ?? 1, CleanDown = work.CleanDown,
                        Night = work.Task is null ? night.Night : null,
                        State = work.To.ToInstant() <= now ? WorkState.Done : WorkState.Running, From = work.From, To = work.To,
                    }
                    where !reported.Contains(KeyOf(report))
                    select report;
        return [.. progress, .. begun];
    }

    /// <summary>Whether a report says of its work what the plan says, apart from some minutes.</summary>
    public static bool Agrees(Plan plan, ProgressReport report, Instant now) =>
        WorkOf(plan, report) is { } planned && SamePeople(planned, report, planned)
        && AsPlanned(planned, report, now) is { State: WorkState.Done or WorkState.Running } read
        && read.From == planned.From && read.To == planned.To;

    private static ProgressReport AsPlanned(PlannedWork planned, ProgressReport report, Instant now)
    {
        if (report.State is not (WorkState.Done or WorkState.Running)) return report;
        var read = report with
        {
            From = report.From is { } from && IsNear(from, planned.From) ? planned.From : report.From,
            To = report.To is { } to ? IsNear(to, planned.To) ? planned.To : to
                : report.From is { } start && IsNear(start, planned.From) ? planned.To : null,
        };
        // Running work that should have ended some minutes ago is about to be finished.
        if (read.State == WorkState.Running && read.To == planned.To && planned.To.ToInstant() <= now
            && now - planned.To.ToInstant() <= Tolerance)
            read = read with { State = WorkState.Done };
        return read is { From: { } begun, To: { } ended } && ended.ToInstant() <= begun.ToInstant() ? report : read;
    }

    private static bool IsNear(OffsetDateTime reported, OffsetDateTime planned)
    {
        var apart = reported.ToInstant() - planned.ToInstant();
        return apart <= Tolerance && apart >= -Tolerance;
    }

    private static bool SamePeople(PlannedWork planned, ProgressReport report, PlannedWork? published) =>
        (report.People.Count > 0 ? report.People : published?.People.Select(person => person.Person) ?? []).ToHashSet()
            .SetEquals(planned.People.Select(person => person.Person));

    private static PlannedWork? WorkOf(Plan plan, ProgressReport report) =>
        (from night in plan.Nights
         from work in night.Work
         where report.Task is { } task ? work.Task == task && work.Stint == report.Stint
             : work.CleanDown == report.CleanDown && night.Night == report.Night
         select work).FirstOrDefault();

    private static (string?, int, string?, string?) KeyOf(ProgressReport report) =>
        (report.Task, report.Stint, report.CleanDown, report.Night);
}
