using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Nights;

/// <summary>The store accepted the finished week. The name of the person who accepted it is a note.</summary>
/// <param name="HandOver">The id of the acceptance: "hand-over-1".</param>
/// <param name="By">The id of the lead who recorded it.</param>
/// <param name="OpenChecks">The checks of the walk-through that failed last, and were accepted so without a snag.</param>
/// <param name="Snags">The numbers of the snags that were accepted open.</param>
/// <param name="Photos">The ids of photographs of what was accepted; null for none.</param>
public sealed record WeekHandedOver(
    string HandOver, Instant At, string By, IReadOnlyList<OpenCheck> OpenChecks, IReadOnlyList<int> Snags,
    IReadOnlyList<string>? Photos = null) : IWeekEvent;

/// <summary>A check of an area.</summary>
public sealed record OpenCheck(string Zone, string Check);

/// <summary>An acceptance counts no longer. The reason is a note.</summary>
/// <param name="By">The id of the lead who withdrew it.</param>
public sealed record HandOverWithdrawn(string HandOver, string By) : IWeekEvent;
