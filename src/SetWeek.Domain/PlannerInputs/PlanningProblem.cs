using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

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
                [.. week.ReportedWork.Statuses.Select(so => ProgressOf(published.Plan, so)).OfType<ProgressReport>()])
            : null);

    public static LocalDateTime NotBefore(StoreWeek week, LocalDateTime now) =>
        week.ReportedWork.Latest is { } latest && StoreTime.Local(week, latest + Duration.FromMinutes(1)) is var last && last > now
            ? last : now;

    /// <summary>
    /// Null for work that the published plan does not have: nobody can say who did it, so that it counts as not begun.
    /// </summary>
    private static ProgressReport? ProgressOf(Plan published, WorkStatus so)
    {
        var (night, planned) = (from each in published.Nights
                                from work in each.Work
                                where so.Subject.Task is { } task ? work.Task == task && work.Stint == so.Subject.Stint
                                    : work.CleanDown == so.Subject.CleanDown && each.Night == so.Subject.Night
                                select (each.Night, work)).FirstOrDefault();
        if (planned is null) return null;
        return new ProgressReport
        {
            Task = so.Subject.Task,
            Stint = so.Subject.Task is null ? 1 : so.Subject.Stint,
            Night = so.Subject.Task is null ? night : null,
            CleanDown = so.Subject.CleanDown,
            State = so.State,
            From = so.State == WorkState.Done ? StartOf(planned, so) : so.From,
            To = so.To,
            RemainingMinutes = so.RemainingMinutes,
            Until = so.Until,
        };
    }

    /// <summary>
    /// Where nobody reported the start, that of the plan, if it makes sense; a piece of work lasts a minute at least.
    /// </summary>
    private static OffsetDateTime StartOf(PlannedWork planned, WorkStatus so)
    {
        var end = so.To!.Value;
        var from = so.From ?? (planned.From.ToInstant() < end.ToInstant() ? planned.From : end - (planned.To - planned.From));
        var latest = end.PlusMinutes(-1);
        return from.ToInstant() > latest.ToInstant() ? latest : from;
    }
}
