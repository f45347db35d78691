using System.Collections.Immutable;
using NodaTime;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks;

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
