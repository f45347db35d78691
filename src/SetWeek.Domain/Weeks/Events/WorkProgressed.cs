using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>How far work under way has come: the minutes that it still needs, the quantity done, or both.</summary>
/// <param name="RemainingMinutes">Minutes that the work still needs, from At; null if not said.</param>
/// <param name="Done">The pieces done so far; null if not said.</param>
/// <param name="Of">The pieces of the whole stint.</param>
public sealed record WorkProgressed(
    string Report, string Task, int Stint, OffsetDateTime At, int? RemainingMinutes = null, int? Done = null, int? Of = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <summary>Work under way was interrupted. Nothing keeps it from going on.</summary>
/// <param name="RemainingMinutes">Minutes left of it; null: the planned minutes less those worked.</param>
public sealed record WorkPaused(
    string Report, string Task, int Stint, OffsetDateTime At, int? RemainingMinutes = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <summary>Paused or blocked work goes on.</summary>
public sealed record WorkResumed(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}
