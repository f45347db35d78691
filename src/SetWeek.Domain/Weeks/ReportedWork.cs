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

    /// <summary>The status of all work that was started, blocked, finished or reopened, ordered by id.</summary>
    public IEnumerable<WorkStatus> Statuses =>
        Reports.Select(entry => WorkStatus.Of(entry.Key, entry.Value)).OfType<WorkStatus>();

    /// <summary>The time of the latest reported event; null if nothing is reported.</summary>
    public Instant? Latest => Reports.Values.SelectMany(reports => reports)
        .Select(report => (Instant?)report.At.ToInstant()).Max();

    public ReportedWork With(IWorkReport report) =>
        new(Reports.SetItem(report.Subject, Reports.GetValueOrDefault(report.Subject, []).Add(report)));

    private static string SortKey(WorkKey key) => key.Task is { } task ? $"{task}/{key.Stint:D4}"
        : $"~{key.Night}/{key.CleanDown}";
}
