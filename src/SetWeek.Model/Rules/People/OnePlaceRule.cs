using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.People;

internal sealed class OnePlaceRule : IRule
{
    public string Id => "one-place";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byPerson = new List<Work>[problem.Crew.Count];
        foreach (var work in schedule.Work)
            foreach (var person in work.People.Select(hand => hand.Person).Distinct())
                (byPerson[person] ??= []).Add(work);
        for (var person = 0; person < byPerson.Length; person++)
        {
            if (byPerson[person] is not { } works) continue;
            for (var one = 0; one < works.Count; one++)
                for (var other = one + 1; other < works.Count; other++)
                    if (works[one].Span.Overlaps(works[other].Span))
                        yield return works[one].From <= works[other].From
                            ? Of(problem, person, works[one], works[other]) : Of(problem, person, works[other], works[one]);
        }
    }

    private Breach Of(Problem problem, int person, Work first, Work second) =>
        new(Id, Say.About(problem, second) with { Person = problem.Crew[person].Id },
            $"{problem.Crew[person].Name} is wanted at {Say.Work(problem, second)} from "
                + $"{Say.At(problem, second.From)}, while at {Say.Work(problem, first)} until "
                + $"{Say.At(problem, first.To)}.")
            { OnlyFacts = problem.Began(first) && problem.Began(second) };
}
