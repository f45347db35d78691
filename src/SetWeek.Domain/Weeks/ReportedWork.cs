using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks;

/// <summary>The reports on work, grouped by stint or clean-down. Their order of arrival does not matter.</summary>
public sealed record ReportedWork(ImmutableSortedDictionary<WorkKey, ImmutableList<IWorkReport>> Reports)
{
    public static ReportedWork Empty { get; } =
        new(ImmutableSortedDictionary.Create<WorkKey, ImmutableList<IWorkReport>>(Comparer<WorkKey>.Create(
        (first, second) => string.CompareOrdinal(SortKey(first), SortKey(second)))));

    /// <summary>The status of all work that was started, paused, blocked, finished or reopened, ordered by id.</summary>
    public IEnumerable<WorkStatus> Statuses =>
        Reports.Select(entry => WorkStatus.Of(entry.Key, entry.Value)).OfType<WorkStatus>();

    /// <summary>The time of the latest report that decides the status of its work; null if nothing is reported.</summary>
    public Instant? Latest => Statuses.Select(status => (Instant?)status.Since).Max();

    /// <returns>Null if nothing is reported of that work.</returns>
    public WorkStatus? StatusOf(WorkKey work) =>
        Reports.TryGetValue(work, out var reports) ? WorkStatus.Of(work, reports) : null;

    public ReportedWork With(IWorkReport report) =>
        new(Reports.SetItem(report.Subject, Reports.GetValueOrDefault(report.Subject, []).Add(report)));

    private static string SortKey(WorkKey key) => key.Task is { } task ? $"{task}/{key.Stint:D4}"
        : $"~{key.Night}/{key.CleanDown}";
}
