using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>The status of a stint or a clean-down.</summary>
/// <param name="From">When it was started, or resumed after a block or a pause; null if not reported.</param>
public sealed record WorkStatus(WorkKey Subject, WorkState State, OffsetDateTime? From)
{
    /// <summary>When it was finished. For running work whose remaining minutes are known: its expected end.</summary>
    public OffsetDateTime? To { get; init; }

    public int? RemainingMinutes { get; init; }
    public OffsetDateTime? Until { get; init; }
    public string? Reason { get; init; }

    /// <summary>The id of the report that blocks it; null if it is not blocked.</summary>
    public string? Block { get; init; }

    /// <summary>True for blocked work that was paused: nothing keeps it from going on.</summary>
    public bool Paused { get; init; }

    /// <summary>Minutes worked before the work was last interrupted; 0 if it was not.</summary>
    public int WorkedMinutes { get; init; }

    /// <summary>The latest report of a quantity; null if there is none.</summary>
    public QuantityDone? Quantity { get; init; }

    /// <summary>The ids of the people who were reported to do it; null: those of the published plan.</summary>
    public IReadOnlyList<string>? People { get; init; }

    /// <summary>The id of the person who recorded the last start, finish or failed check; null if nobody is known.</summary>
    public string? By { get; init; }

    /// <summary>What was found before it began; null if nothing was asked.</summary>
    public IReadOnlyList<GateAnswer>? Gates { get; init; }

    /// <summary>Who answered checks after the finish, in the order of the reports.</summary>
    public IReadOnlyList<LateSignature> LateSignatures { get; init; } = [];

    /// <summary>What was found when it seemed done; null if nothing was asked.</summary>
    public IReadOnlyList<CheckAnswer>? Checks { get; init; }

    /// <summary>The air when it seemed done; null if nobody read it.</summary>
    public AirReading? Air { get; init; }

    /// <summary>The ids of the photographs of what was looked at or blocked it, the first one first; null for none.</summary>
    public IReadOnlyList<string>? Photos { get; init; }

    /// <summary>The time of the report that decides the status.</summary>
    public required Instant Since { get; init; }

    /// <summary>The state in the words of the floor.</summary>
    public ReportedState ReportedState => State switch
    {
        WorkState.Running => ReportedState.Running,
        WorkState.Done => ReportedState.Done,
        WorkState.Reopened => ReportedState.Reopened,
        _ => Paused ? ReportedState.Paused : ReportedState.Blocked,
    };

    /// <summary>The status after all reports on a stint or clean-down.</summary>
    /// <returns>Null if the reports have no effect.</returns>
    public static WorkStatus? Of(WorkKey key, IEnumerable<IWorkReport> reports) => Each(key, reports).LastOrDefault();

    /// <summary>
    /// Folds the reports on a stint or clean-down in the order of their times. A device whose clock is ahead sends many that
    /// count from their receipt; its own clock then tells their order.
    /// </summary>
    /// <returns>The status after each report, from the first that has an effect.</returns>
    public static IEnumerable<WorkStatus> Each(WorkKey key, IEnumerable<IWorkReport> reports)
    {
        WorkStatus? status = null;
        foreach (var report in reports.OrderBy(report => report.EffectiveAt().ToInstant())
            .ThenBy(report => report.StatedAt().ToInstant()).ThenBy(Rank)
            .ThenBy(report => report.Report, StringComparer.Ordinal))
        {
            status = Next(key, status, report, report.EffectiveAt());
            if (status is not null) yield return status;
        }
    }

    private static WorkStatus? Next(WorkKey key, WorkStatus? status, IWorkReport report, OffsetDateTime at)
    {
        return (status?.State, report) switch
        {
            // The finish left checks unanswered: a later finish answers those, and only those.
            (WorkState.Done, WorkFinished late) when AnswersMore(status!, late.Checks) => status! with
            {
                Checks = [.. status!.Checks ?? [], .. Further(status, late.Checks!)],
                LateSignatures = [.. status.LateSignatures, new(late.By, Further(status, late.Checks!).Count())],
                Photos = Joined(status.Photos, late.Photos),
            },
            (WorkState.Done, ChecksFailed late) when AnswersMore(status!, late.Checks) =>
                Interrupted(late.RemainingMinutes) with { Until = at, Paused = true },
            // A second start has no effect. Finished work stays finished until it is reopened.
            (WorkState.Running, WorkStarted or CleanDownStarted or WorkResumed) or (WorkState.Done, not WorkReopened) => status,
            (WorkState.Blocked, WorkStarted or WorkResumed) => Now(WorkState.Running, at) with
            {
                To = status!.RemainingMinutes is { } left ? at.PlusMinutes(left) : null,
            },
            (_, WorkStarted or CleanDownStarted or WorkResumed) => Now(WorkState.Running, at),
            (_, WorkFinished or CleanDownFinished) => Now(WorkState.Done, status?.From) with { To = at },
            (_, WorkBlocked block) => Interrupted(block.RemainingMinutes)
                with { Until = block.Until, Reason = block.Reason, Block = block.Report },
            (_, ChecksFailed failed) => Interrupted(failed.RemainingMinutes) with { Until = at, Paused = true },
            // What is blocked stays blocked.
            (WorkState.Blocked, WorkPaused) => status,
            (_, WorkPaused pause) =>
                Interrupted(pause.RemainingMinutes ?? (status?.To is { } end ? Math.Max(1, Minutes(at, end)) : null))
                    with { Until = at, Paused = true },
            (WorkState.Blocked, WorkProgressed progress) => status! with
            {
                RemainingMinutes = progress.RemainingMinutes ?? status.RemainingMinutes,
                Quantity = QuantityDone.In(progress) ?? status.Quantity,
            },
            (_, WorkProgressed progress) => Now(WorkState.Running, status?.From) with
            {
                To = progress.RemainingMinutes is { } left ? at.PlusMinutes(left) : null,
                Quantity = QuantityDone.In(progress) ?? status?.Quantity,
            },
            (WorkState.Done, WorkReopened) => new WorkStatus(key, WorkState.Reopened, null) { Since = at.ToInstant() },
            _ => status,
        };

        WorkStatus Now(WorkState state, OffsetDateTime? from) => new(key, state, from)
        {
            Since = at.ToInstant(), People = report.People ?? status?.People, Quantity = status?.Quantity,
            WorkedMinutes = status?.WorkedMinutes ?? 0, By = report.By ?? status?.By,
            Gates = (report as WorkStarted)?.Gates ?? status?.Gates,
            Checks = report switch
            {
                WorkFinished finished => finished.Checks,
                ChecksFailed failed => failed.Checks,
                _ => status?.Checks,
            },
            Air = report switch
            {
                WorkFinished finished => finished.Air,
                ChecksFailed failed => failed.Air,
                _ => status?.Air,
            },
            Photos = Joined(status?.Photos, report.Photos),
        };

        WorkStatus Interrupted(int? remaining) => Now(WorkState.Blocked, status?.From) with
        {
            RemainingMinutes = remaining,
            WorkedMinutes = (status?.WorkedMinutes ?? 0)
                + status switch
                {
                    { State: WorkState.Running, From: { } begun } => Minutes(begun, at),
                    { State: WorkState.Done, From: { } begun, To: { } ended } => Minutes(begun, ended),
                    _ => 0,
                },
        };
    }

    private static IReadOnlyList<string>? Joined(IReadOnlyList<string>? earlier, IReadOnlyList<string>? later) =>
        earlier is null || later is null ? earlier ?? later : [.. earlier, .. later];

    /// <summary>The answers to checks that nobody has answered before.</summary>
    private static IEnumerable<CheckAnswer> Further(WorkStatus done, IReadOnlyList<CheckAnswer> checks) =>
        checks.Where(answer => done.Checks?.Any(known => known.Check == answer.Check) is not true);

    private static bool AnswersMore(WorkStatus done, IReadOnlyList<CheckAnswer>? checks) =>
        checks is not null && Further(done, checks).Any();

    private static int Minutes(OffsetDateTime from, OffsetDateTime to) =>
        (int)Math.Max(0, Math.Floor((to.ToInstant() - from.ToInstant()).TotalMinutes));

    /// <summary>The order of reports with the same time: a start comes before a block or a finish.</summary>
    private static int Rank(IWorkReport report) => report switch
    {
        WorkStarted or CleanDownStarted or WorkResumed => 0,
        WorkProgressed => 1,
        WorkPaused => 2,
        WorkBlocked => 3,
        WorkFinished or CleanDownFinished or ChecksFailed => 4,
        WorkReopened => 5,
        _ => throw new ArgumentException($"{report.GetType().Name} has no place among reports of one time.", nameof(report)),
    };
}

/// <summary>Checks that were answered after the finish.</summary>
/// <param name="By">The id of the person who signs for the answers; null if nobody is known.</param>
/// <param name="Checks">How many.</param>
public sealed record LateSignature(string? By, int Checks);

/// <summary>What the floor has reported of work.</summary>
public enum ReportedState { Running, Paused, Blocked, Done, Reopened }

/// <summary>How many pieces of a stint are done.</summary>
/// <param name="At">When this was reported.</param>
public sealed record QuantityDone(int Done, int Of, OffsetDateTime At)
{
    /// <returns>Null if the report says no quantity.</returns>
    public static QuantityDone? In(WorkProgressed report) =>
        report is { Done: { } done, Of: { } of } ? new QuantityDone(done, of, report.EffectiveAt()) : null;
}
