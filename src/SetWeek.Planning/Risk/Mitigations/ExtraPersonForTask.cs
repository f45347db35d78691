using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>
/// One more person in a night, for a task that drives the risk. If the task has a faster mode with one more person, it is done in
/// that mode. Otherwise the new person replaces the busiest of the task's people. The new person can also do work that is put
/// off to that night.
/// </summary>
internal sealed record ExtraPersonForTask(ExtraPerson Person, int Night, int Task, int? Mode) : MitigationCandidate
{
    public override WeekChange Change => Person;

    public override string Sentence(Week week) =>
        $"{Person.Sentence(week).TrimEnd('.')}, for {WeekPhrases.Task(week, week.Tasks[Task])}.";

    public override MitigationCase Apply(MitigationCase mitigationCase)
    {
        var changed = mitigationCase.WithChange(Change);
        var (problem, extraPerson) = (changed.Problem, mitigationCase.Week.Crew.Count);
        var shifts = mitigationCase.Schedule.Shifts.Where(shift => shift.Night == Night).ToArray();
        if (shifts.Length == 0) return changed;
        return changed with
        {
            Schedule = mitigationCase.Schedule with
            {
                Work = [.. mitigationCase.Schedule.Work
                    .Select(work => IsAffected(problem, work)
                        ? WithExtraPerson(problem, mitigationCase.Schedule, work, extraPerson) : work)],
                // The new person is on shift from the first planned start to the last planned end of the night.
                Shifts =
                [
                    .. mitigationCase.Schedule.Shifts,
                    new ScheduledShift(extraPerson, Night, shifts.Min(shift => shift.From), shifts.Max(shift => shift.To),
                        Break: null),
                ],
            },
        };
    }

    /// <summary>For each of the tasks, in each night that it is planned in and that is not over.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, Schedule schedule, IEnumerable<int> tasks) =>
        from index in tasks
        from work in schedule.Work.Where(work => work.Stint is { } stint && problem.Stints[stint].Task.Index == index
            && problem.Facts?.BegunWork[stint] is null && work.Assignments.Count > 0).DistinctBy(work => work.Night)
        where problem.Nights[work.Night].Closes > (problem.Facts?.Now ?? -Problem.Never)
        select Of(problem, problem.Tasks[index], work);

    private static ExtraPersonForTask Of(Problem problem, IndexedTask task, ScheduledWork work)
    {
        var current = task.Modes[work.Mode];
        var (mode, added) = Enumerable.Range(0, task.Modes.Count)
            .Select(mode => (mode,
                Added: task.Modes[mode].Minutes < current.Minutes ? AddedRequirement(current, task.Modes[mode]) : null))
            .FirstOrDefault(pair => pair.Added is not null);
        var requirement = added ?? current.RequiredSkills.MaxBy(requirement => requirement.Level);
        var person = new ExtraPerson(problem.Nights[work.Night].Id, problem.Skills[requirement.Skill], requirement.Level);
        return new ExtraPersonForTask(person, work.Night, task.Index, added is null ? null : mode);
    }

    private bool IsAffected(Problem problem, ScheduledWork work) => work.Night == Night && work.Stint is { } stint
        && problem.Stints[stint].Task.Index == Task && problem.Facts?.BegunWork[stint] is null
        // Stints may have different modes; one more person turns only the next smaller mode into this one.
        && (Mode is not { } mode || problem.Tasks[Task].Modes[mode].People == work.Assignments.Count + 1);

    private ScheduledWork WithExtraPerson(Problem problem, Schedule schedule, ScheduledWork work, int extraPerson)
    {
        var assignment = new Assignment(extraPerson, problem.SkillOf(Person.Skill));
        if (Mode is { } mode) return work with { Mode = mode, Assignments = [.. work.Assignments, assignment] };
        var relieved = work.Assignments.Where(candidate => candidate.Skill == assignment.Skill)
            .MaxBy(candidate => schedule.Work.Where(other => other.Night == Night)
                .Where(other => other.Assignments.Any(assigned => assigned.Person == candidate.Person))
                .Sum(other => other.Span.Minutes));
        return work with { Assignments = [.. work.Assignments.Where(other => other.Person != relieved.Person), assignment] };
    }

    /// <summary>The one person more that the other mode needs; null if the modes differ in anything else but minutes.</summary>
    private static RequiredSkill? AddedRequirement(ActivityMode current, ActivityMode other)
    {
        if (other.People != current.People + 1 || !other.Equipment.SequenceEqual(current.Equipment)) return null;
        var positions = other.RequiredSkills
            .SelectMany(requirement => Enumerable.Repeat(requirement with { People = 1 }, requirement.People)).ToList();
        foreach (var requirement in current.RequiredSkills)
            for (var person = 0; person < requirement.People; person++)
                if (!positions.Remove(requirement with { People = 1 })) return null;
        return positions[0];
    }
}
