using NodaTime;

namespace SetWeek.Domain.Weeks.Events.Nights;

/// <summary>
/// Somebody showed how a display is built by which people can be hurt, and it is confirmed for those to whom it was shown.
/// </summary>
/// <param name="ShownBy">The id of the person who showed it.</param>
/// <param name="To">The ids of the people to whom it was shown.</param>
/// <param name="By">The id of the person who signs: the one to whom it was shown, or a lead who records it for others.</param>
/// <param name="ByLead">Whether a lead recorded it.</param>
public sealed record DisplayShown(
    string Report, string Display, OffsetDateTime At, string ShownBy, IReadOnlyList<string> To, string By, bool ByLead,
    ReportClock? Clock = null, string? Corrects = null) : IFloorReport;
