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
    /// cannot come lapses.
    /// </summary>
    public static Week WeekOf(StoreWeek week, CrewFile crew) => Decided(WithCrew(week, crew), week.DisplayChoices);

    /// <summary>A week with decisions about its displays.</summary>
    public static Week Decided(Week week, IEnumerable<KeyValuePair<string, DisplayChoice>> choices) => WeekChange.Apply(week,
        choices.Select(decided => decided.Value == DisplayChoice.LeaveOut
            ? (WeekChange)new LeaveOut(decided.Key) : new UseAlternate(decided.Key)));

    /// <summary>The same without the decisions about displays: as if every display were to be built.</summary>
    public static Week WithCrew(StoreWeek week, CrewFile crew) => WeekChange.Apply(
        week.Week with
        {
            Kits = [.. week.Week.Kits.Select(week.ForPlanner)],
            Crew = [.. week.Crew.Select(crew.Find).OfType<CrewMember>().Select(member => InNights(week, member))],
            Pins = week.Crew.Where(person => crew.Find(person) is null).Aggregate(week.Week.Pins,
                (pins, erased) => [.. pins.Select(pin => pin.Without(erased, null)).OfType<Pin>()]),
        },
        week.Absences.Select(absence => new Absence(absence.Person, absence.Night)));

    /// <summary>A night that was dropped stays in the crew file, in case it is set again.</summary>
    private static CrewMember InNights(StoreWeek week, CrewMember member) =>
        member.Available.All(entry => HasNight(week, entry.Night)) ? member
            : member with { Available = [.. member.Available.Where(entry => HasNight(week, entry.Night))] };

    private static bool HasNight(StoreWeek week, string night) => week.Week.Nights.Any(known => known.Id == night);

    /// <param name="now">Store-local. It is moved to the last report if that is later.</param>
    public static PlannerInput Of(StoreWeek week, CrewFile crew, LocalDateTime now) =>
        new(WeekOf(week, crew), week.Published is { } published
            ? new Replan(published.Plan, NotBefore(week, now),
                [.. week.ReportedWork.Statuses.Select(status => ProgressOf(published.Plan, status)).OfType<ProgressReport>()])
            : null);

    /// <summary>The given time or, if later, the minute after the last report. Store-local.</summary>
    public static LocalDateTime NotBefore(StoreWeek week, LocalDateTime now) =>
        week.ReportedWork.Latest is { } latest
            && StoreTime.Local(week, latest + Duration.FromMinutes(1)) is var last && last > now
            ? last : now;

    /// <summary>
    /// Converts the status of work. Its people are those of the published plan.
    /// </summary>
    /// <returns>Null for work that is not in the published plan, which counts as not begun.</returns>
    private static ProgressReport? ProgressOf(Plan published, WorkStatus status)
    {
        var (night, planned) = (from plannedNight in published.Nights
                                from work in plannedNight.Work
                                where status.Subject.Task is { } task ? work.Task == task && work.Stint == status.Subject.Stint
                                    : work.CleanDown == status.Subject.CleanDown && plannedNight.Night == status.Subject.Night
                                select (plannedNight.Night, work)).FirstOrDefault();
        if (planned is null) return null;
        return new ProgressReport
        {
            Task = status.Subject.Task,
            Stint = status.Subject.Task is null ? 1 : status.Subject.Stint,
            Night = status.Subject.Task is null ? night : null,
            CleanDown = status.Subject.CleanDown,
            State = status.State,
            From = status.State == WorkState.Done ? StartOf(planned, status) : status.From,
            To = status.To,
            RemainingMinutes = status.RemainingMinutes,
            Until = status.Until,
        };
    }

    /// <summary>
    /// The start of finished work: as reported, or as planned, or the end minus the planned duration if the planned start is not
    /// before the end. It is at least a minute before the end.
    /// </summary>
    private static OffsetDateTime StartOf(PlannedWork planned, WorkStatus status)
    {
        var end = status.To!.Value;
        var from = status.From ?? (planned.From.ToInstant() < end.ToInstant() ? planned.From : end - (planned.To - planned.From));
        var latest = end.PlusMinutes(-1);
        return from.ToInstant() > latest.ToInstant() ? latest : from;
    }
}
