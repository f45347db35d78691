using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>The status of a stint or a clean-down.</summary>
/// <param name="From">When it was started, or resumed after a block; null if not reported.</param>
public sealed record WorkStatus(WorkKey Subject, WorkState State, OffsetDateTime? From)
{
    /// <summary>When it was finished. For work resumed after a block with known remaining minutes: its expected end.</summary>
    public OffsetDateTime? To { get; init; }

    public int? RemainingMinutes { get; init; }
    public OffsetDateTime? Until { get; init; }
    public string? Reason { get; init; }

    /// <summary>Folds the reports on a stint or clean-down in the order of their times.</summary>
    /// <returns>Null if the reports have no effect.</returns>
    public static WorkStatus? Of(WorkKey key, IEnumerable<IWorkReport> reports) =>
        reports.OrderBy(report => report.At.ToInstant()).ThenBy(Rank).ThenBy(report => report.Report, StringComparer.Ordinal)
            .Aggregate((WorkStatus?)null, (status, report) => Next(key, status, report));

    private static WorkStatus? Next(WorkKey key, WorkStatus? status, IWorkReport report) => (status?.State, report) switch
    {
        // A second start has no effect. Finished work stays finished until it is reopened.
        (WorkState.Running, WorkStarted or CleanDownStarted) or (WorkState.Done, not WorkReopened) => status,
        (WorkState.Blocked, WorkStarted start) => new WorkStatus(key, WorkState.Running, start.At)
        {
            To = status!.RemainingMinutes is { } left ? start.At.PlusMinutes(left) : null,
        },
        (_, WorkStarted or CleanDownStarted) => new WorkStatus(key, WorkState.Running, report.At),
        (_, WorkFinished or CleanDownFinished) => new WorkStatus(key, WorkState.Done, status?.From) { To = report.At },
        (_, WorkBlocked block) => new WorkStatus(key, WorkState.Blocked, status?.From)
        {
            RemainingMinutes = block.RemainingMinutes, Until = block.Until, Reason = block.Reason,
        },
        (WorkState.Done, WorkReopened) => new WorkStatus(key, WorkState.Reopened, null),
        _ => status,
    };

    /// <summary>The order of reports with the same time: a start comes before a block or a finish.</summary>
    private static int Rank(IWorkReport report) => report switch
    {
        WorkStarted or CleanDownStarted => 0,
        WorkBlocked => 1,
        WorkFinished or CleanDownFinished => 2,
        WorkReopened => 3,
        _ => throw new ArgumentException($"{report.GetType().Name} has no place among reports of one time.", nameof(report)),
    };
}
