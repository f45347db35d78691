using SetWeek.Domain.Directions;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// A direction was scoped to a store. The event contains the complete week except for its crew, so that a later revision of the
/// direction does not change an open week.
/// </summary>
/// <param name="Week">The week as in a week file, without its crew.</param>
/// <param name="Crew">The ids of the crew, in the order in which a keyholder is chosen.</param>
/// <param name="MustBeShown">
/// The ids of the displays that are shown before their work begins; null if the week was opened before this was kept.
/// </param>
public sealed record WeekOpened(
    string Direction, long DirectionVersion, Week Week, IReadOnlyList<string> Crew, IReadOnlyList<ScopingDecision> Scoping,
    IReadOnlyList<string>? MustBeShown = null)
    : IWeekEvent;
