using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>
/// One more person in a night, for a task that much depends on: as one more pair of hands where the task has a mode for it, else
/// in the place of whoever is busiest of its people. What is put off to that night they may do as well.
/// </summary>
internal sealed record ExtraPersonForTask(ExtraPerson Person, int Night, int Task, int? Mode) : MitigationCandidate
{
    public override WeekChange Change => Person;

    public override string Sentence(Week week) =>
        $"{Person.Sentence(week).TrimEnd('.')}, for {WeekPhrases.Task(week, week.Tasks[Task])}.";

    public override MitigationCase Apply(MitigationCase mitigationCase)
    {
        var changed = mitigationCase with { Week = Change.Apply(mitigationCase.Week), PlanningWeek = Change.Apply(mitigationCase.PlanningWeek) };
        var (problem, added) = (changed.Problem, mitigationCase.Week.Crew.Count);
        var there = mitigationCase.Schedule.Shifts.Where(shift => shift.Night == Night).ToArray();
        if (there.Length == 0) return changed;
        return changed with
        {
            Schedule = mitigationCase.Schedule with
            {
                Work = [.. mitigationCase.Schedule.Work
                    .Select(work => IsAffected(problem, work) ? WithExtraPerson(problem, mitigationCase.Schedule, work, added) : work)],
                // As long as anybody is there: no more is known of them.
                Shifts =
                [
                    .. mitigationCase.Schedule.Shifts,
                    new ScheduledShift(added, Night, there.Min(shift => shift.From), there.Max(shift => shift.To), Break: null),
                ],
            },
        };
    }

    /// <summary>For each of the tasks, in the nights where they are planned.</summary>
    public static IEnumerable<MitigationCandidate> For(Problem problem, Schedule schedule, IEnumerable<int> tasks) =>
        from index in tasks
        from work in schedule.Work.Where(work => work.Stint is { } stint && problem.Stints[stint].Task.Index == index
            && problem.Facts?.BegunWork[stint] is null && work.Assignments.Count > 0).DistinctBy(work => work.Night)
        where problem.Nights[work.Night].Closes > (problem.Facts?.Now ?? -Problem.Never)
        select Of(problem, problem.Tasks[index], work);

    private static ExtraPersonForTask Of(Problem problem, IndexedTask task, ScheduledWork work)
    {
        var now = task.Modes[work.Mode];
        var (mode, added) = Enumerable.Range(0, task.Modes.Count)
            .Select(mode => (mode, Added: task.Modes[mode].Minutes < now.Minutes ? AddedRequirement(now, task.Modes[mode]) : null))
            .FirstOrDefault(one => one.Added is not null);
        var post = added ?? now.RequiredSkills.MaxBy(post => post.Level);
        var person = new ExtraPerson(problem.Nights[work.Night].Id, problem.Skills[post.Skill], post.Level);
        return new ExtraPersonForTask(person, work.Night, task.Index, added is null ? null : mode);
    }

    private bool IsAffected(Problem problem, ScheduledWork work) => work.Night == Night && work.Stint is { } stint
        && problem.Stints[stint].Task.Index == Task && problem.Facts?.BegunWork[stint] is null
        // Stints may be done in different modes; one more makes the bigger one only of the one below it.
        && (Mode is not { } mode || problem.Tasks[Task].Modes[mode].People == work.Assignments.Count + 1);

    private ScheduledWork WithExtraPerson(Problem problem, Schedule schedule, ScheduledWork work, int extraPerson)
    {
        var assignment = new Assignment(extraPerson, problem.SkillOf(Person.Skill));
        if (Mode is { } mode) return work with { Mode = mode, Assignments = [.. work.Assignments, assignment] };
        var relieved = work.Assignments.Where(one => one.Skill == assignment.Skill)
            .MaxBy(one => schedule.Work.Where(other => other.Night == Night)
                .Where(other => other.Assignments.Any(at => at.Person == one.Person))
                .Sum(other => other.Span.Minutes));
        return work with { Assignments = [.. work.Assignments.Where(one => one.Person != relieved.Person), assignment] };
    }

    /// <summary>The one place that the other way has more; null where it differs in anything else.</summary>
    private static RequiredSkill? AddedRequirement(ActivityMode current, ActivityMode other)
    {
        if (other.People != current.People + 1 || !other.Equipment.SequenceEqual(current.Equipment)) return null;
        var left = other.RequiredSkills.SelectMany(post => Enumerable.Repeat(post with { People = 1 }, post.People)).ToList();
        foreach (var post in current.RequiredSkills)
            for (var place = 0; place < post.People; place++)
                if (!left.Remove(post with { People = 1 })) return null;
        return left[0];
    }
}
