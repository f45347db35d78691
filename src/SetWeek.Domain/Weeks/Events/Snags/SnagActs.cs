using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Snags;

/// <summary>A snag was put right.</summary>
public sealed record SnagFixed(
    string Report, string Snag, string By, OffsetDateTime At, IReadOnlyList<string>? Photos = null,
    ReportClock? Clock = null, string? Corrects = null) : ISnagReport;

/// <summary>A snag that was put right, or accepted as it is, is to be put right after all.</summary>
public sealed record SnagReopened(
    string Report, string Snag, string By, OffsetDateTime At, IReadOnlyList<string>? Photos = null,
    ReportClock? Clock = null, string? Corrects = null) : ISnagReport;

/// <summary>A snag has another owner, another day or both.</summary>
/// <param name="Owner">Null if the owner stays.</param>
/// <param name="Due">Null if the day stays.</param>
public sealed record SnagHandedOn(
    string Report, string Snag, SnagOwner? Owner, LocalDate? Due, string By, OffsetDateTime At,
    IReadOnlyList<string>? Photos = null, ReportClock? Clock = null, string? Corrects = null) : ISnagReport;

/// <summary>The lead accepts that a snag is open at the hand-over. It keeps its owner and its day.</summary>
public sealed record SnagAcceptedOpen(
    string Report, string Snag, string By, OffsetDateTime At, IReadOnlyList<string>? Photos = null,
    ReportClock? Clock = null, string? Corrects = null) : ISnagReport;
