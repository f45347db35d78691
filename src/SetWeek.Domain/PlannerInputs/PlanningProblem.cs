using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>Converts the state of a week into the input of the planner.</summary>
public static class PlanningProblem
{
    /// <summary>
    /// The week with its crew, with what is counted of its kits and with what the store has decided about its displays. Erased
    /// people are not part of the crew. An absence removes the night from a person's availability. What is pinned of people who
    /// cannot come lapses. A stop of work is a ban.
    /// </summary>
    public static Week WeekOf(StoreWeek week, CrewFile crew) =>
        StopBans.Apply(week, Decided(WithCrew(week, crew), week.DisplayChoices));

    /// <summary>A week with decisions about its displays.</summary>
    public static Week Decided(Week week, IEnumerable<KeyValuePair<string, DisplayChoice>> choices) => WeekChange.Apply(week,
        choices.Select(decided => decided.Value == DisplayChoice.LeaveOut
            ? (WeekChange)new LeaveOut(decided.Key) : new UseAlternate(decided.Key)));

    /// <summary>The same without the decisions about displays: as if every display were to be built.</summary>
    public static Week WithCrew(StoreWeek week, CrewFile crew) => WeekChange.Apply(
        week.Week with
        {
            Kits = [.. week.Week.Kits.Select(week.ForPlanner)],
            Crew = [.. week.Crew.Select(crew.Find).OfType<CrewMember>()],
            Pins = week.Crew.Where(person => crew.Find(person) is null).Aggregate(week.Week.Pins,
                (pins, erased) => [.. pins.Select(pin => pin.Without(erased, null)).OfType<Pin>()]),
        },
        week.Absences.Select(absence => new Absence(absence.Person, absence.Night)));

    /// <param name="now">Store-local, by the service's clock.</param>
    public static PlannerInput Of(StoreWeek week, CrewFile crew, LocalDateTime now) =>
        new(WeekOf(week, crew), week.Published is { } published
            ? new Replan(published.Plan, NotBefore(week, now), WorkProgress.Of(week, published.Plan, NotBefore(week, now)))
            : null);

    /// <summary>
    /// The given minute, or the next one if a report decides the state of its work in that minute or later. So work that began
    /// in the current minute began before "now", and a device whose clock is wrong moves "now" by a minute at most.
    /// </summary>
    public static LocalDateTime NotBefore(StoreWeek week, LocalDateTime now) =>
        week.ReportedWork.Latest is { } latest && StoreTime.Local(week, latest) >= now ? now.PlusMinutes(1) : now;
}
