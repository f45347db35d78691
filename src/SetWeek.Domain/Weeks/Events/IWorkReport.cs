using NodaTime;
using SetWeek.Domain.Work;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A report on a stint or a clean-down.</summary>
public interface IWorkReport : IFloorReport
{
    WorkKey Subject { get; }

    /// <summary>The ids of the people who did it; null: those of the published plan.</summary>
    IReadOnlyList<string>? People => null;
}

public sealed record WorkStarted(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

public sealed record WorkFinished(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <param name="Reason">One of <see cref="BlockReasons"/>.</param>
/// <param name="RemainingMinutes">Work left of a started stint; null if all of it is left.</param>
/// <param name="Until">When the work can go on; null if unknown.</param>
/// <param name="Photos">The ids of photographs; null for none.</param>
public sealed record WorkBlocked(
    string Report, string Task, int Stint, OffsetDateTime At, string Reason, int? RemainingMinutes, OffsetDateTime? Until,
    ReportClock? Clock = null, string? Corrects = null, IReadOnlyList<string>? Photos = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <summary>A check failed: the work must be done again.</summary>
public sealed record WorkReopened(
    string Report, string Task, int Stint, OffsetDateTime At, ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

public sealed record CleanDownStarted(
    string Report, string Zone, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}

public sealed record CleanDownFinished(
    string Report, string Zone, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}
