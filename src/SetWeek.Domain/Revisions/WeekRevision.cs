using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Revisions;

/// <summary>The events that lead from an open week to the wanted one, and the crew's particulars after them.</summary>
/// <param name="Events">Empty if the week is as wanted already.</param>
public sealed record WeekRevision(IReadOnlyList<IWeekEvent> Events, CrewFile Crew)
{
    /// <summary>Whether somebody joins the crew or has other particulars.</summary>
    public bool ConcernsCrew => Events.Any(e => e is CrewJoined or CrewChanged or PersonAbsent);

    /// <summary>Whether the crew is to be stored. Hours in a night go with the night, whoever drops it.</summary>
    public bool ChangesCrewFile => ConcernsCrew || Events.Any(e => e is NightDropped);
}
