using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// The decision to take a pin away. It names the pin by its id, because a pin that lapses is not in the week that the planner
/// reads.
/// </summary>
public static class PinDecisions
{
    /// <returns>The event; none if the pin was taken away before.</returns>
    public static OneOf<WeekRevision, Refusal> Unpin(this StoreWeek week, CrewFile crew, string pin) =>
        week.Unpinned.Contains(pin) ? new WeekRevision([], crew)
            : week.Pins.All(known => known.Id != pin) ? Refusal.NotFound("pin", pin)
            : new WeekRevision([new Unpinned(pin)], crew);
}
