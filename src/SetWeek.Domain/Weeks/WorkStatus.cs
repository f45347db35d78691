using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>Where one piece of work stands.</summary>
/// <param name="From">When it was begun, or gone on with after a block; null where nobody said.</param>
public sealed record WorkStatus(WorkKey Subject, WorkState State, OffsetDateTime? From)
{
    /// <summary>When it was finished; of running work, when it should be after a block that left less than all of it.</summary>
    public OffsetDateTime? To { get; init; }

    public int? RemainingMinutes { get; init; }
    public OffsetDateTime? Until { get; init; }
    public string? Reason { get; init; }

    /// <summary>Null where the reports leave it as if nothing had been said.</summary>
    public static WorkStatus? Of(WorkKey about, IEnumerable<IWorkReport> reports) =>
        reports.OrderBy(report => report.At.ToInstant()).ThenBy(Rank).ThenBy(report => report.Report, StringComparer.Ordinal)
            .Aggregate((WorkStatus?)null, (so, report) => Then(about, so, report));

    private static WorkStatus? Then(WorkKey about, WorkStatus? so, IWorkReport report) => (so?.State, report) switch
    {
        // A second phone says the same again; what was finished stays so until somebody reopens it.
        (WorkState.Running, WorkStarted or CleanDownStarted) or (WorkState.Done, not WorkReopened) => so,
        (WorkState.Blocked, WorkStarted start) => new WorkStatus(about, WorkState.Running, start.At)
        {
            To = so!.RemainingMinutes is { } left ? start.At.PlusMinutes(left) : null,
        },
        (_, WorkStarted or CleanDownStarted) => new WorkStatus(about, WorkState.Running, report.At),
        (_, WorkFinished or CleanDownFinished) => new WorkStatus(about, WorkState.Done, so?.From) { To = report.At },
        (_, WorkBlocked block) => new WorkStatus(about, WorkState.Blocked, so?.From)
        {
            RemainingMinutes = block.RemainingMinutes, Until = block.Until, Reason = block.Reason,
        },
        (WorkState.Done, WorkReopened) => new WorkStatus(about, WorkState.Reopened, null),
        _ => so,
    };

    /// <summary>Of reports of one moment, a start comes before what ends it.</summary>
    private static int Rank(IWorkReport report) => report switch
    {
        WorkStarted or CleanDownStarted => 0,
        WorkBlocked => 1,
        WorkFinished or CleanDownFinished => 2,
        _ => 3,
    };
}
