using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Compares the pins of two weeks. A pin that lapses because its person is absent or erased is not taken away: it binds again if
/// the absence is taken back. With its night or its task it goes.
/// </summary>
internal static class PinComparison
{
    /// <param name="crewEvents">The events of the crew that belong to the same decision.</param>
    public static IEnumerable<IWeekEvent> Of(StoreWeek week, CrewFile crew, IEnumerable<IWeekEvent> crewEvents, Week after)
    {
        var absences = crewEvents.OfType<PersonAbsent>().Select(absent => (absent.Person, absent.Night));
        var inForce = (week with { Absences = week.Absences.Union(absences) }).PinsInForce(crew)
            .ToDictionary(pin => pin.Id, pin => pin.Pin, StringComparer.Ordinal);
        var wanted = after.Pins.ToList();
        foreach (var pin in week.Pins)
            if (!inForce.TryGetValue(pin.Id, out var bound))
            {
                if (!Has(after, pin.Pin)) yield return new Unpinned(pin.Id);
            }
            else if (wanted.FindIndex(other => WeekParts.Same(other, bound)) is >= 0 and var found) wanted.RemoveAt(found);
            else yield return new Unpinned(pin.Id);
        foreach (var (index, pin) in wanted.Index()) yield return new Pinned(WeekPin.IdOf(week.PinCount + index + 1), pin);
    }

    /// <summary>Whether the week has the night and the task of a pin.</summary>
    private static bool Has(Week week, Pin pin)
    {
        var (task, night) = pin switch
        {
            StintPin stint => (stint.Task, stint.Night),
            ShiftPin shift => (null, shift.Night),
            _ => ((string?)null, (string?)null),
        };
        return (task is null || week.Tasks.Any(known => known.Id == task))
            && (night is null || week.Nights.Any(known => known.Id == night));
    }
}
