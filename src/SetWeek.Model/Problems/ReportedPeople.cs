using SetWeek.Model.Plans;

namespace SetWeek.Model.Problems;

/// <summary>
/// The published plan with the people who really did begun work, where reports name others. Whoever had no shift in that night
/// gets one for the time of the work, so that rest, breaks and pay count those hours.
/// </summary>
internal static class ReportedPeople
{
    /// <param name="problem">The problem of the re-plan.</param>
    /// <param name="published">The published plan as it was published.</param>
    /// <param name="now">Current minute.</param>
    /// <param name="reports">By stint index: the last report.</param>
    /// <param name="cleanDowns">By night and zone: the last report of its clean-down.</param>
    public static Schedule Apply(Problem problem, Schedule published, int now, IReadOnlyDictionary<int, ProgressReport> reports,
        IReadOnlyDictionary<(int Night, int Zone), ProgressReport> cleanDowns)
    {
        var withStints = reports.OrderBy(report => report.Key).Aggregate(published, (schedule, report) =>
            report.Value is { State: not WorkState.Reopened, People.Count: > 0, From: { } from }
            && problem.Grid.MinuteOf(from) is var begun && begun < now
            && schedule.Work.FirstOrDefault(work => work.Stint == report.Key) is { } planned
                ? WithStint(problem, schedule, now, planned, begun, report.Value) : schedule);
        return cleanDowns.OrderBy(report => report.Key).Aggregate(withStints, (schedule, report) =>
            report.Value.People.Count > 0
            && schedule.Work.FirstOrDefault(work => work.IsCleanDown && (work.Night, work.Zone) == report.Key) is { } planned
            && ReplanFacts.ActualCleanDown(problem, now, report.Value, planned) is { } actual
                ? With(problem, schedule, planned, report.Value.People, actual.Night, actual.From, actual.To) : schedule);
    }

    private static Schedule WithStint(
        Problem problem, Schedule schedule, int now, ScheduledWork planned, int begun, ProgressReport report)
    {
        var night = problem.Nights.FirstOrDefault(night => night.Opens <= begun && begun < night.Closes)?.Index ?? planned.Night;
        var end = report.To is { } to ? problem.Grid.MinuteOf(to) : Math.Max(now, begun + planned.To - planned.From);
        return With(problem, schedule, planned, report.People, night, begun, end);
    }

    private static Schedule With(Problem problem, Schedule schedule, ScheduledWork planned, IReadOnlyList<string> reported,
        int night, int begun, int end)
    {
        int[] people = [.. reported.Where(problem.HasPerson).Select(problem.PersonOf).Distinct()];
        if (people.Length == 0 || people.ToHashSet().SetEquals(planned.Assignments.Select(assigned => assigned.Person)))
            return schedule;
        var present = schedule.Shifts.Where(shift => shift.Night == night).Select(shift => shift.Person).ToHashSet();
        return schedule with
        {
            Work = [.. schedule.Work.Select(
                work => work == planned ? work with { Assignments = Assign(problem, work, people) } : work)],
            Shifts =
            [
                .. schedule.Shifts,
                .. people.Where(person => !present.Contains(person))
                    .Select(person => ShiftOf(problem, person, night, begun, end)),
            ],
        };
    }

    /// <summary>Who was planned keeps the skill; the others get those that are left, first one that they have.</summary>
    private static Assignment[] Assign(Problem problem, ScheduledWork work, IReadOnlyList<int> people)
    {
        var kept = work.Assignments.Where(assigned => people.Contains(assigned.Person)).ToList();
        var open = work.Assignments.Where(assigned => !people.Contains(assigned.Person))
            .Select(assigned => assigned.Skill).ToList();
        var otherwise = work.Assignments.Select(assigned => assigned.Skill)
            // Everybody who was planned may be erased.
            .FirstOrDefault(RequiredSkillsOf(problem, work) is [var required, ..] ? required.Skill : -1);
        foreach (var person in people.Where(person => kept.All(assigned => assigned.Person != person)))
        {
            var at = open.FindIndex(skill => skill >= 0 && problem.Week.Crew[person].Skills.ContainsKey(problem.Skills[skill]));
            if (at < 0 && open.Count > 0) at = 0;
            kept.Add(new Assignment(person, at < 0 ? otherwise : open[at]));
            if (at >= 0) open.RemoveAt(at);
        }
        return [.. kept];
    }

    private static IReadOnlyList<RequiredSkill> RequiredSkillsOf(Problem problem, ScheduledWork work) =>
        work.Stint is { } stint ? problem.Stints[stint].Task.Modes[work.Mode].RequiredSkills
            : problem.Zones[work.Zone].CleanDown?.RequiredSkills ?? [];

    /// <summary>A shift on the shift grid around the work, within the night.</summary>
    private static ScheduledShift ShiftOf(Problem problem, int person, int night, int begun, int end)
    {
        var opens = problem.Nights[night].Opens;
        var from = begun <= opens ? opens : opens + (begun - opens) / problem.ShiftGridMinutes * problem.ShiftGridMinutes;
        var to = Math.Min(problem.NextShiftSlot(night, end), problem.LastShiftSlot(night));
        return new ScheduledShift(person, night, from, Math.Max(to, from + problem.ShiftGridMinutes), null);
    }
}
