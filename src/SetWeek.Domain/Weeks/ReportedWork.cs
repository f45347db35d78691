using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks;

/// <summary>The reports on work, by the work that they are about. Their order of arrival does not matter.</summary>
public sealed record ReportedWork(ImmutableSortedDictionary<WorkKey, ImmutableList<IWorkReport>> Reports)
{
    public static ReportedWork Empty { get; } =
        new(ImmutableSortedDictionary.Create<WorkKey, ImmutableList<IWorkReport>>(Comparer<WorkKey>.Create(
        (one, other) => (Sorted(one), Sorted(other)) is var (first, second) ? string.CompareOrdinal(first, second) : 0)));

    /// <summary>Everything that was begun, blocked or reopened, by id.</summary>
    public IEnumerable<WorkStatus> Statuses => Reports.Select(entry => WorkStatus.Of(entry.Key, entry.Value)).OfType<WorkStatus>();

    /// <summary>When the last thing reported happened.</summary>
    public Instant? Latest => Reports.Values.SelectMany(reports => reports)
        .Select(report => (Instant?)report.At.ToInstant()).Max();

    public ReportedWork With(IWorkReport report) =>
        new(Reports.SetItem(report.Subject, Reports.GetValueOrDefault(report.Subject, []).Add(report)));

    private static string Sorted(WorkKey key) => key.Task is { } task ? $"{task}/{key.Stint:D4}"
        : $"~{key.Night}/{key.CleanDown}";
}
