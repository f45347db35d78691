namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// What happens in the stream of a set week. Events name people by id alone: names, rates, ages, skills, hours, reasons and
/// free text lie in documents that can be erased (<see cref="Crews.CrewFile"/>, <see cref="Note"/>).
/// </summary>
public interface IWeekEvent;

/// <summary>
/// A report from the floor: a fact with an id made where it was noted. One that has come already changes nothing.
/// </summary>
public interface IFloorReport : IWeekEvent
{
    string Report { get; }
}
