using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Compares the pins of two weeks. A pin that lapses because its person is absent or erased is not taken away: it binds again if
/// the absence is taken back.
/// </summary>
internal static class PinComparison
{
    /// <param name="crewEvents">The events of the crew that belong to the same decision.</param>
    public static IEnumerable<IWeekEvent> Of(StoreWeek week, CrewFile crew, IEnumerable<IWeekEvent> crewEvents, Week after)
    {
        var absences = week.Absences.Concat(
            crewEvents.OfType<PersonAbsent>().Select(absent => (absent.Person, absent.Night))).ToList();
        var wanted = after.Pins.ToList();
        foreach (var pin in week.Pins)
        {
            if (InForce(pin.Pin) is not { } bound) continue;
            if (wanted.FindIndex(other => WeekParts.Same(other, bound)) is >= 0 and var found) wanted.RemoveAt(found);
            else yield return new Unpinned(pin.Id);
        }
        foreach (var (index, pin) in wanted.Index()) yield return new Pinned(WeekPin.IdOf(week.PinCount + index + 1), pin);

        Pin? InForce(Pin pin) => absences.Select(absence => (absence.Person, Night: (string?)absence.Night))
            .Concat(week.Crew.Where(person => crew.Find(person) is null).Select(person => (person, (string?)null)))
            .Aggregate((Pin?)pin, (bound, gone) => bound?.Without(gone.Item1, gone.Item2));
    }
}
