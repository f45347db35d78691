using SetWeek.Domain.Directions;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// A direction was scoped to a store. The week stands in the event as it was told to the store then, its crew apart: a later
/// revision of the direction changes no week that is open.
/// </summary>
/// <param name="Week">As in a week file, without its crew.</param>
/// <param name="Crew">Ids, in the order in which a keyholder is chosen.</param>
public sealed record WeekOpened(
    string Direction, long DirectionVersion, Week Week, IReadOnlyList<string> Crew, IReadOnlyList<ScopingDecision> Scoping)
    : IWeekEvent;
