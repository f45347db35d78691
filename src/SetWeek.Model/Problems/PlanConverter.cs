using SetWeek.Model.Plans;
using SetWeek.Model.Time;

namespace SetWeek.Model.Problems;

/// <summary>Converts the nights of a plan to a <see cref="Schedule"/> and back: ids to indexes, times to minutes.</summary>
public static class PlanConverter
{
    /// <summary>The plan's nights as a schedule of the problem.</summary>
    /// <remarks>
    /// Skipped are shifts, work and assignments that refer to a person, task, stint, mode, zone or night that the week no
    /// longer has. A published plan may be older than the week.
    /// </remarks>
    public static Schedule ScheduleOf(Problem problem, Plan plan)
    {
        var (shifts, work, keyholders) = (new List<ScheduledShift>(), new List<ScheduledWork>(), new int?[problem.Nights.Count]);
        foreach (var night in plan.Nights)
        {
            if (!problem.HasNight(night.Night)) continue;
            var index = problem.NightOf(night.Night);
            keyholders[index] = night.Keyholder is { } keyholder && problem.HasPerson(keyholder)
                ? problem.PersonOf(keyholder) : null;
            shifts.AddRange(night.Shifts.Where(shift => problem.HasPerson(shift.Person)).Select(shift => new ScheduledShift(
                problem.PersonOf(shift.Person), index, problem.Grid.MinuteOf(shift.From), problem.Grid.MinuteOf(shift.To),
                shift.Break is { } rest ? new Span(problem.Grid.MinuteOf(rest.From), problem.Grid.MinuteOf(rest.To)) : null)));
            work.AddRange(night.Work.Select(item => WorkOf(problem, index, item)).OfType<ScheduledWork>());
        }
        return new Schedule { Shifts = shifts, Work = work, Keyholders = keyholders };
    }

    /// <summary>
    /// The schedule as the nights of a plan, one for each night of the week. Shifts and work are ordered by start.
    /// </summary>
    public static IReadOnlyList<PlannedNight> NightsOf(Problem problem, Schedule schedule) =>
        [.. problem.Nights.Select(night => new PlannedNight
        {
            Night = night.Id,
            Keyholder = schedule.Keyholders[night.Index] is { } person ? problem.Crew[person].Id : null,
            Shifts = [.. schedule.Shifts.Where(shift => shift.Night == night.Index)
                .OrderBy(shift => shift.From).ThenBy(shift => shift.Person)
                .Select(shift => new PlannedShift(problem.Crew[shift.Person].Id, problem.Grid.TimeOf(shift.From),
                    problem.Grid.TimeOf(shift.To),
                    shift.Break is { } rest ? new(problem.Grid.TimeOf(rest.From), problem.Grid.TimeOf(rest.To)) : null))],
            Work = [.. schedule.Work.Where(work => work.Night == night.Index)
                .OrderBy(work => work.From).ThenBy(work => work.To).ThenBy(work => work.Stint ?? int.MaxValue)
                .ThenBy(work => work.Zone)
                .Select(work => PlannedWorkOf(problem, work))],
        })];

    private static PlannedWork PlannedWorkOf(Problem problem, ScheduledWork work)
    {
        var stint = work.Stint is { } index ? problem.Stints[index] : null;
        return new PlannedWork
        {
            Task = stint?.Task.Id,
            Stint = stint?.Number,
            Mode = stint is null ? null : work.Mode,
            CleanDown = stint is null ? problem.Zones[work.Zone].Id : null,
            From = problem.Grid.TimeOf(work.From),
            To = problem.Grid.TimeOf(work.To),
            People = [.. work.Assignments.OrderBy(assignment => assignment.Person)
                .Select(assignment => new PlannedPerson(problem.Crew[assignment.Person].Id, problem.Skills[assignment.Skill]))],
        };
    }

    private static ScheduledWork? WorkOf(Problem problem, int night, PlannedWork item)
    {
        Assignment[] people = [.. item.People.Where(person => problem.HasPerson(person.Person))
            .Select(person => new Assignment(problem.PersonOf(person.Person), problem.SkillOf(person.Skill)))];
        var (from, to) = (problem.Grid.MinuteOf(item.From), problem.Grid.MinuteOf(item.To));
        if (item.CleanDown is { } zone)
            return problem.HasZone(zone) ? new ScheduledWork(night, null, 0, problem.ZoneOf(zone), from, to, people) : null;
        if (!problem.HasTask(item.Task!)) return null;
        var task = problem.Tasks[problem.TaskOf(item.Task!)];
        return item.Stint <= task.StintCount && item.Mode < task.Modes.Count
            ? new ScheduledWork(night, task.FirstStint + item.Stint!.Value - 1, item.Mode!.Value, task.Zone, from, to, people)
            : null;
    }
}
