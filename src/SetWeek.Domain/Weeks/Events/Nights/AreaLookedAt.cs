using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Nights;

/// <summary>Somebody looked at an area in the walk-through and answered checks of it. The reasons are notes.</summary>
/// <param name="Zone">The id of the zone that is the area.</param>
/// <param name="By">The id of the person who signs.</param>
/// <param name="With">The ids of the others who looked.</param>
/// <param name="Photos">The ids of photographs of the area; null for none.</param>
public sealed record AreaLookedAt(
    string Report, string Zone, OffsetDateTime At, string By, IReadOnlyList<string> With, IReadOnlyList<AnsweredCheck> Answers,
    ReportClock? Clock = null, string? Corrects = null, IReadOnlyList<string>? Photos = null) : IFloorReport;

/// <param name="Check">The id of the check.</param>
/// <param name="Millimetres">The figure that was measured; null for none.</param>
public sealed record AnsweredCheck(string Check, CheckResult Answer, int? Millimetres = null);
