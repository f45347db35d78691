namespace SetWeek.Domain.Weeks.Events;

/// <summary>
/// An event in the stream of a set week. Events identify people only by id. Names, rates, ages, skills, hours, reasons and free
/// text are in documents that can be erased (<see cref="Crews.CrewFile"/>, <see cref="Note"/>).
/// </summary>
public interface IWeekEvent;

/// <summary>
/// A report from the sales floor. The reporting device creates its id, so that a repeated report changes nothing.
/// </summary>
public interface IFloorReport : IWeekEvent
{
    string Report { get; }
}
