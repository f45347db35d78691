using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// A decision of a lead or of head office that changes an open week. The event carries the whole new value of one thing, which is
/// found by its id. It never carries a difference, so that each event is read by itself.
/// </summary>
public interface IWeekRevision : IWeekEvent;

/// <summary>A night has this window and these bans. A night that the week did not have is added.</summary>
public sealed record NightSet(Night Night) : IWeekRevision;

/// <summary>Nothing is planned in the night any more.</summary>
public sealed record NightDropped(string Night) : IWeekRevision;

/// <param name="Launch">Store-local.</param>
public sealed record LaunchMoved(LocalDateTime Launch) : IWeekRevision;

public sealed record RulesSet(RuleSet Rules) : IWeekRevision;

/// <summary>What plans of the week are made for.</summary>
public sealed record GoalsSet(IReadOnlyList<GoalChoice> Goals, IReadOnlyList<GoalChoice> ReplanGoals, HoldTarget Hold)
    : IWeekRevision;

public sealed record ZoneSet(Zone Zone) : IWeekRevision;

/// <summary>A count of 0 means that all of it is out of order or lent.</summary>
public sealed record EquipmentSet(Equipment Equipment) : IWeekRevision;
