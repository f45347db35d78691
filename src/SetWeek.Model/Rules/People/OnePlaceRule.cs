using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.People;

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
            for (var one = 0; one < works.Count; one++)
                for (var other = one + 1; other < works.Count; other++)
                    if (works[one].Span.Overlaps(works[other].Span))
                        yield return works[one].From <= works[other].From
                            ? BreachOf(problem, person, works[one], works[other]) : BreachOf(problem, person, works[other], works[one]);
        }
    }

    private Breach BreachOf(Problem problem, int person, ScheduledWork first, ScheduledWork second) =>
        new(Id, RulePhrases.Subject(problem, second) with { Person = problem.Crew[person].Id },
            $"{problem.Crew[person].Name} is wanted at {RulePhrases.Work(problem, second)} from "
                + $"{RulePhrases.Time(problem, second.From)}, while at {RulePhrases.Work(problem, first)} until "
                + $"{RulePhrases.Time(problem, first.To)}.")
            { IsUnavoidable = problem.HasBegun(first) && problem.HasBegun(second) };
}
