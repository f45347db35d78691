using NodaTime;
using SetWeek.Domain.Work;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// What the floor says of a stint or of a clean-down. Reports may come late and in any order; At says when it happened.
/// </summary>
public interface IWorkReport : IFloorReport
{
    OffsetDateTime At { get; }
    WorkKey Subject { get; }
}

public sealed record WorkStarted(string Report, string Task, int Stint, string Night, OffsetDateTime At) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

public sealed record WorkFinished(string Report, string Task, int Stint, string Night, OffsetDateTime At) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <param name="Reason">One of <see cref="BlockReasons"/>.</param>
/// <param name="RemainingMinutes">What is left of begun work; null: all of it.</param>
/// <param name="Until">When it can go on; null: nobody knows.</param>
public sealed record WorkBlocked(
    string Report, string Task, int Stint, OffsetDateTime At, string Reason, int? RemainingMinutes, OffsetDateTime? Until)
    : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

/// <summary>A check failed: it is to be done again.</summary>
public sealed record WorkReopened(string Report, string Task, int Stint, OffsetDateTime At) : IWorkReport
{
    WorkKey IWorkReport.Subject => new(Task, Stint);
}

public sealed record CleanDownStarted(string Report, string Zone, string Night, OffsetDateTime At) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}

public sealed record CleanDownFinished(string Report, string Zone, string Night, OffsetDateTime At) : IWorkReport
{
    WorkKey IWorkReport.Subject => WorkKey.CleanDownOf(Zone, Night);
}
