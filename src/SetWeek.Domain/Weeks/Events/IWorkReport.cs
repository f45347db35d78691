using NodaTime;
using SetWeek.Domain.Work;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A report on a stint or a clean-down.</summary>
public interface IWorkReport : IFloorReport
{
    WorkKey Subject { get; }

    /// <summary>The ids of the people who did it; null: those of the published plan.</summary>
    IReadOnlyList<string>? People => null;

    /// <summary>
    /// The id of the person who recorded it, and signs for its answers: one of those who did it, or a lead who records for
    /// others. Null if it was recorded before this was kept.
    /// </summary>
    string? By => null;

    /// <summary>The ids of the photographs that came with it; null if it has none.</summary>
    IReadOnlyList<string>? Photos => null;
}

/// <param name="Gates">What was found before it began; null if nothing was asked.</param>
public sealed record WorkStarted(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null, string? By = null, IReadOnlyList<GateAnswer>? Gates = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <param name="Checks">The answers, none of which is not good (<see cref="ChecksFailed"/>); null if nothing was asked.</param>
/// <param name="Photos">The ids of photographs of what was looked at; null for none.</param>
public sealed record WorkFinished(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null, string? By = null, IReadOnlyList<CheckAnswer>? Checks = null,
    AirReading? Air = null, IReadOnlyList<string>? Photos = null) : IWorkReport
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
    ReportClock? Clock = null, string? Corrects = null, string? By = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}

public sealed record CleanDownFinished(
    string Report, string Zone, string Night, OffsetDateTime At, IReadOnlyList<string>? People = null,
    ReportClock? Clock = null, string? Corrects = null, string? By = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}

/// <summary>One of the three answers to a check or a gate.</summary>
public enum CheckResult { Good, NotGood, DoesNotApply }

/// <summary>What somebody found who looked at finished work.</summary>
/// <param name="Check">The text of the check, as the task or the usual checks have it.</param>
public sealed record CheckAnswer(string Check, CheckResult Result);

/// <summary>What somebody found before work began.</summary>
/// <param name="Gate">The id of a gate.</param>
public sealed record GateAnswer(string Gate, CheckResult Result);

/// <summary>What thermometer and hygrometer show where paint dries.</summary>
/// <param name="MoisturePercent">Relative humidity.</param>
public sealed record AirReading(int DegreesCelsius, int MoisturePercent);

/// <summary>
/// Work was looked at when it seemed done, and a check was not good. So it is not done: the people put it right, or leave it.
/// </summary>
/// <param name="RemainingMinutes">Minutes that putting it right takes; null: the planned minutes less those worked.</param>
/// <param name="By">The id of the person who recorded it, and signs for the answers.</param>
/// <param name="Photos">The ids of photographs of what was looked at; null for none.</param>
public sealed record ChecksFailed(
    string Report, string Task, int Stint, string Night, OffsetDateTime At, IReadOnlyList<CheckAnswer> Checks,
    int? RemainingMinutes = null, AirReading? Air = null, IReadOnlyList<string>? People = null, string? By = null,
    ReportClock? Clock = null, string? Corrects = null, IReadOnlyList<string>? Photos = null) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}
