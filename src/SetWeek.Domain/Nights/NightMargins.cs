using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.RightShift;

namespace SetWeek.Domain.Nights;

/// <summary>
/// What the published plan says of a night beyond its times: how late each piece may start, what it frees, and what to put off
/// first. It does not depend on reported work: a latest start holds whatever earlier work has taken.
/// </summary>
/// <param name="Pieces">By piece of the night.</param>
/// <param name="PutOff">What to put off when the night runs late, in that order.</param>
/// <param name="HomeBy">By person on shift: the end of the time in which the person can be in the store that night.</param>
public sealed record NightMargins(
    IReadOnlyDictionary<WorkKey, PieceMargin> Pieces, IReadOnlyList<WorkKey> PutOff,
    IReadOnlyDictionary<string, OffsetDateTime> HomeBy)
{
    /// <summary>The margins of a night of a week whose plan is published.</summary>
    /// <param name="night">The id of a night of the week.</param>
    public static NightMargins Of(StoreWeek week, CrewFile crew, string night)
    {
        var problem = Problem.Of(PlanningProblem.WeekOf(week, crew));
        var schedule = PlanConverter.ScheduleOf(problem, week.Published!.Plan);
        var index = problem.NightOf(night);
        return new NightMargins(
            LatestStarts.Of(problem, schedule, index).DistinctBy(latest => KeyOf(problem, latest.Work)).ToDictionary(
                latest => KeyOf(problem, latest.Work), latest => new PieceMargin(problem.Grid.TimeOf(latest.Minute),
                    problem.Grid.TimeOf(latest.Minute + latest.Work.Span.Minutes),
                    [.. WaitingWork.FreedBy(problem, schedule, latest.Work).Select(freed => KeyOf(problem, freed))])),
            [.. DropOrder.Of(problem, schedule, index).Select(work => KeyOf(problem, work))],
            HomeByOf(problem, schedule, index));
    }

    /// <summary>Whoever can stay until the night closes is left out.</summary>
    private static Dictionary<string, OffsetDateTime> HomeByOf(Problem problem, Schedule schedule, int night) =>
        (from shift in schedule.Shifts
         where shift.Night == night
         let person = problem.Crew[shift.Person]
         let window = person.ShiftWindows[night].FirstOrDefault(window => window.Contains(shift.Span))
         where window.Minutes > 0 && window.To < problem.Nights[night].Closes
         group window by person.Id).ToDictionary(own => own.Key, own => problem.Grid.TimeOf(own.First().To));

    internal static WorkKey KeyOf(Problem problem, ScheduledWork work) => work.Stint is { } stint
        ? new WorkKey(problem.Stints[stint].Task.Id, problem.Stints[stint].Number)
        : WorkKey.CleanDownOf(problem.Zones[work.Zone].Id, problem.Nights[work.Night].Id);
}

/// <summary>How late a piece of work may be.</summary>
/// <param name="LatestStart">The latest start with which the night still holds; its planned start if it cannot be later.</param>
/// <param name="LatestEnd">Its end with that start.</param>
/// <param name="Frees">The work of the night that can begin once it is done.</param>
public sealed record PieceMargin(OffsetDateTime LatestStart, OffsetDateTime LatestEnd, IReadOnlyList<WorkKey> Frees);
