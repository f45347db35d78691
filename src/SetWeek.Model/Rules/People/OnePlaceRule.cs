using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.People;

/// <summary>The one-place rule: no two pieces of work of one person overlap.</summary>
internal sealed class OnePlaceRule : IRule
{
    public RuleId Id => RuleId.OnePlace;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byPerson = new List<ScheduledWork>[problem.Crew.Count];
        foreach (var work in schedule.Work)
            foreach (var person in work.Assignments.Select(assignment => assignment.Person).Distinct())
                (byPerson[person] ??= []).Add(work);
        for (var person = 0; person < byPerson.Length; person++)
        {
            if (byPerson[person] is not { } works) continue;
            for (var i = 0; i < works.Count; i++)
                for (var j = i + 1; j < works.Count; j++)
                    if (works[i].Span.Overlaps(works[j].Span))
                        yield return works[i].From <= works[j].From
                            ? BreachOf(problem, person, works[i], works[j]) : BreachOf(problem, person, works[j], works[i]);
        }
    }

    private Breach BreachOf(Problem problem, int person, ScheduledWork first, ScheduledWork second) =>
        new(Id, RulePhrases.Subject(problem, second) with { Person = problem.Crew[person].Id },
            $"{problem.Crew[person].Name} is assigned to {RulePhrases.Work(problem, second)} from "
                + $"{RulePhrases.Time(problem, second.From)}, but is at {RulePhrases.Work(problem, first)} until "
                + $"{RulePhrases.Time(problem, first.To)}.")
            { IsUnavoidable = problem.HasBegun(first) && problem.HasBegun(second) };
}
