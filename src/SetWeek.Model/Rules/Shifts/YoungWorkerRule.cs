using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Shifts;

internal sealed class YoungWorkerRule : IRule
{
    public string Id => "young-worker";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var shift in schedule.Shifts)
            if (problem.Crew[shift.Person] is { Under18: true } person && shift.To > person.Until[shift.Night])
                yield return new Breach(Id, Say.About(problem, shift),
                    $"{person.Name} is under 18; the shift ends {Say.At(problem, shift.To)}, after "
                        + $"{Say.At(problem, person.Until[shift.Night])}.")
                    { OnlyFacts = problem.EndsAsSoonAsItCan(shift) };
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var hand in work.People)
                foreach (var trait in problem.Crew[hand.Person].Barred)
                    if (problem.Stints[stint].Task.Traits.Contains(trait))
                        yield return new Breach(Id, Say.About(problem, work) with { Person = problem.Crew[hand.Person].Id },
                            $"{problem.Crew[hand.Person].Name} is under 18 and may not be on {Say.Work(problem, work)}: it "
                                + $"is {trait} work.")
                            { OnlyFacts = problem.Began(work) };
        }
    }
}
