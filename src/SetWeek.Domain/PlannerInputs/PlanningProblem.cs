using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Scheduling;

namespace SetWeek.Domain.PlannerInputs;

/// <summary>The week's events and documents as the planner reads them.</summary>
public static class PlanningProblem
{
    /// <summary>
    /// People who were erased are not of the crew; nights on which somebody is absent are none of their available ones.
    /// </summary>
    public static Week WeekOf(StoreWeek week, CrewFile crew) => week.Week with
    {
        Crew = [.. week.Crew.Select(crew.Find).OfType<CrewMember>().Select(member => member with
        {
            Available = [.. member.Available.Where(entry => !week.Absences.Contains((member.Id, entry.Night)))],
        })],
    };

    /// <param name="now">Store-local; nothing reported can lie after it, so that it moves on to the last report.</param>
    public static PlannerInput Of(StoreWeek week, CrewFile crew, LocalDateTime now) =>
        new(WeekOf(week, crew), week.Published is { } published
            ? new Replan(published.Plan, NotBefore(week, now),
                [.. week.Floor.SoFar.Select(so => ProgressOf(published.Plan, so)).OfType<Progress>()])
            : null);

    public static LocalDateTime NotBefore(StoreWeek week, LocalDateTime now) =>
        week.Floor.Latest is { } latest && StoreTime.Local(week, latest + Duration.FromMinutes(1)) is var last && last > now
            ? last : now;

    /// <summary>
    /// Null for work that the published plan does not have: nobody can say who did it, so that it counts as not begun.
    /// </summary>
    private static Progress? ProgressOf(Plan published, WorkSoFar so)
    {
        var (night, planned) = (from each in published.Nights
                                from work in each.Work
                                where so.About.Task is { } task ? work.Task == task && work.Stint == so.About.Stint
                                    : work.CleanDown == so.About.CleanDown && each.Night == so.About.Night
                                select (each.Night, work)).FirstOrDefault();
        if (planned is null) return null;
        return new Progress
        {
            Task = so.About.Task,
            Stint = so.About.Task is null ? 1 : so.About.Stint,
            Night = so.About.Task is null ? night : null,
            CleanDown = so.About.CleanDown,
            State = so.State,
            From = so.State == WorkState.Done ? Begun(planned, so) : so.From,
            To = so.To,
            RemainingMinutes = so.RemainingMinutes,
            Until = so.Until,
        };
    }

    /// <summary>
    /// Where nobody reported the start, that of the plan, if it makes sense; a piece of work lasts a minute at least.
    /// </summary>
    private static OffsetDateTime Begun(PlannedWork planned, WorkSoFar so)
    {
        var end = so.To!.Value;
        var from = so.From ?? (planned.From.ToInstant() < end.ToInstant() ? planned.From : end - (planned.To - planned.From));
        var latest = end.PlusMinutes(-1);
        return from.ToInstant() > latest.ToInstant() ? latest : from;
    }
}
