using SetWeek.Model.Changes;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Risk.Remedies;

/// <summary>
/// One more person in a night, for a task that much depends on: as one more pair of hands where the task has a mode for it, else
/// in the place of whoever is busiest of its people. What is put off to that night they may do as well.
/// </summary>
internal sealed record OneMore(PersonNight Person, int Night, int Task, int? Mode) : Remedy
{
    public override WeekChange Change => Person;

    public override string Sentence(Week week) =>
        $"{Person.Sentence(week).TrimEnd('.')}, for {InWords.Task(week, week.Tasks[Task])}.";

    public override Setting Apply(Setting to)
    {
        var changed = to with { Week = Change.Apply(to.Week), Planned = Change.Apply(to.Planned) };
        var (problem, added) = (changed.Problem, to.Week.Crew.Count);
        var there = to.Schedule.Shifts.Where(shift => shift.Night == Night).ToArray();
        if (there.Length == 0) return changed;
        return changed with
        {
            Schedule = to.Schedule with
            {
                Work = [.. to.Schedule.Work
                    .Select(work => IsTheirs(problem, work) ? With(problem, to.Schedule, work, added) : work)],
                // As long as anybody is there: no more is known of them.
                Shifts =
                [
                    .. to.Schedule.Shifts,
                    new Shift(added, Night, there.Min(shift => shift.From), there.Max(shift => shift.To), Break: null),
                ],
            },
        };
    }

    /// <summary>For each of the tasks, in the nights where they are planned.</summary>
    public static IEnumerable<Remedy> For(Problem problem, Schedule schedule, IEnumerable<int> tasks) =>
        from index in tasks
        from work in schedule.Work.Where(work => work.Stint is { } stint && problem.Stints[stint].Task.Index == index
            && problem.Facts?.Begun[stint] is null && work.People.Count > 0).DistinctBy(work => work.Night)
        where problem.Nights[work.Night].Closes > (problem.Facts?.Now ?? -Problem.Never)
        select Of(problem, problem.Activities[index], work);

    private static OneMore Of(Problem problem, Activity task, Work work)
    {
        var now = task.Ways[work.Mode];
        var (mode, added) = Enumerable.Range(0, task.Ways.Count)
            .Select(mode => (mode, Added: task.Ways[mode].Minutes < now.Minutes ? Added(now, task.Ways[mode]) : null))
            .FirstOrDefault(one => one.Added is not null);
        var post = added ?? now.Posts.MaxBy(post => post.Level);
        var person = new PersonNight(problem.Nights[work.Night].Id, problem.Skills[post.Skill], post.Level);
        return new OneMore(person, work.Night, task.Index, added is null ? null : mode);
    }

    private bool IsTheirs(Problem problem, Work work) => work.Night == Night && work.Stint is { } stint
        && problem.Stints[stint].Task.Index == Task && problem.Facts?.Begun[stint] is null
        // Stints may be done in different modes; one more makes the bigger one only of the one below it.
        && (Mode is not { } mode || problem.Activities[Task].Ways[mode].People == work.People.Count + 1);

    private Work With(Problem problem, Schedule schedule, Work work, int added)
    {
        var hand = new Hand(added, problem.SkillOf(Person.Skill));
        if (Mode is { } mode) return work with { Mode = mode, People = [.. work.People, hand] };
        var relieved = work.People.Where(one => one.Skill == hand.Skill)
            .MaxBy(one => schedule.Work.Where(other => other.Night == Night)
                .Where(other => other.People.Any(at => at.Person == one.Person))
                .Sum(other => other.Span.Minutes));
        return work with { People = [.. work.People.Where(one => one.Person != relieved.Person), hand] };
    }

    /// <summary>The one place that the other way has more; null where it differs in anything else.</summary>
    private static Post? Added(Way now, Way other)
    {
        if (other.People != now.People + 1 || !other.Equipment.SequenceEqual(now.Equipment)) return null;
        var left = other.Posts.SelectMany(post => Enumerable.Repeat(post with { People = 1 }, post.People)).ToList();
        foreach (var post in now.Posts)
            for (var place = 0; place < post.People; place++)
                if (!left.Remove(post with { People = 1 })) return null;
        return left[0];
    }
}
