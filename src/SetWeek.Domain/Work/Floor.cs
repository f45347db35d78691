using System.Collections.Immutable;
using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Work;

/// <summary>All that the floor has reported, by what it is about. The order in which reports came does not matter.</summary>
public sealed record Floor(ImmutableSortedDictionary<WorkKey, ImmutableList<IWorkReport>> Reports)
{
    public static Floor Untouched { get; } =
        new(ImmutableSortedDictionary.Create<WorkKey, ImmutableList<IWorkReport>>(Comparer<WorkKey>.Create(
        (one, other) => (Sorted(one), Sorted(other)) is var (first, second) ? string.CompareOrdinal(first, second) : 0)));

    /// <summary>Everything that was begun, blocked or reopened, by id.</summary>
    public IEnumerable<WorkSoFar> SoFar => Reports.Select(entry => WorkSoFar.Of(entry.Key, entry.Value)).OfType<WorkSoFar>();

    /// <summary>When the last thing reported happened.</summary>
    public Instant? Latest => Reports.Values.SelectMany(reports => reports)
        .Select(report => (Instant?)report.At.ToInstant()).Max();

    public Floor With(IWorkReport report) =>
        new(Reports.SetItem(report.About, Reports.GetValueOrDefault(report.About, []).Add(report)));

    private static string Sorted(WorkKey key) => key.Task is { } task ? $"{task}/{key.Stint:D4}"
        : $"~{key.Night}/{key.CleanDown}";
}

/// <summary>Where one piece of work stands.</summary>
/// <param name="From">When it was begun, or gone on with after a block; null where nobody said.</param>
public sealed record WorkSoFar(WorkKey About, WorkState State, OffsetDateTime? From)
{
    /// <summary>When it was finished; of running work, when it should be after a block that left less than all of it.</summary>
    public OffsetDateTime? To { get; init; }

    public int? RemainingMinutes { get; init; }
    public OffsetDateTime? Until { get; init; }
    public string? Reason { get; init; }

    /// <summary>Null where the reports leave it as if nothing had been said.</summary>
    public static WorkSoFar? Of(WorkKey about, IEnumerable<IWorkReport> reports) =>
        reports.OrderBy(report => report.At.ToInstant()).ThenBy(Rank).ThenBy(report => report.Report, StringComparer.Ordinal)
            .Aggregate((WorkSoFar?)null, (so, report) => Then(about, so, report));

    private static WorkSoFar? Then(WorkKey about, WorkSoFar? so, IWorkReport report) => (so?.State, report) switch
    {
        // A second phone says the same again; what was finished stays so until somebody reopens it.
        (WorkState.Running, WorkStarted or CleanDownStarted) or (WorkState.Done, not WorkReopened) => so,
        (WorkState.Blocked, WorkStarted start) => new WorkSoFar(about, WorkState.Running, start.At)
        {
            To = so!.RemainingMinutes is { } left ? start.At.PlusMinutes(left) : null,
        },
        (_, WorkStarted or CleanDownStarted) => new WorkSoFar(about, WorkState.Running, report.At),
        (_, WorkFinished or CleanDownFinished) => new WorkSoFar(about, WorkState.Done, so?.From) { To = report.At },
        (_, WorkBlocked block) => new WorkSoFar(about, WorkState.Blocked, so?.From)
        {
            RemainingMinutes = block.RemainingMinutes, Until = block.Until, Reason = block.Reason,
        },
        (WorkState.Done, WorkReopened) => new WorkSoFar(about, WorkState.Reopened, null),
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
