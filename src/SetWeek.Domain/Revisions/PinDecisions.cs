using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// The pins of a week by their ids, and the decision to take one away. It names the pin by its id, because a pin that lapses is
/// not in the week that the planner reads.
/// </summary>
public static class PinDecisions
{
    /// <summary>The pins that bind, each as the planner reads it: without the people who are absent or erased.</summary>
    public static IEnumerable<WeekPin> PinsInForce(this StoreWeek week, CrewFile crew)
    {
        var gone = week.Absences.Select(absence => (absence.Person, Night: (string?)absence.Night))
            .Concat(week.Crew.Where(person => crew.Find(person) is null).Select(person => (person, (string?)null))).ToList();
        foreach (var pin in week.Pins)
            if (gone.Aggregate((Pin?)pin.Pin, (bound, left) => bound?.Without(left.Item1, left.Item2)) is { } bound)
                yield return pin with { Pin = bound };
    }

    /// <summary>
    /// The pin of the week that equals the given one, as it was set or as the planner reads it; null if there is none.
    /// </summary>
    public static WeekPin? FindPin(this StoreWeek week, CrewFile crew, Pin pin) =>
        (week.Pins.FindLast(known => WeekParts.Same(known.Pin, pin))
            ?? week.PinsInForce(crew).LastOrDefault(known => WeekParts.Same(known.Pin, pin))) is { } found
            ? week.Pins.Single(known => known.Id == found.Id) : null;

    /// <returns>The event; none if the pin was taken away before.</returns>
    public static OneOf<WeekRevision, Refusal> Unpin(this StoreWeek week, CrewFile crew, string pin) =>
        week.Unpinned.Contains(pin) ? new WeekRevision([], crew)
            : week.Pins.All(known => known.Id != pin) ? Refusal.NotFound("pin", pin)
            : new WeekRevision([new Unpinned(pin)], crew);
}
