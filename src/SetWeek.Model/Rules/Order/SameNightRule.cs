using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class SameNightRule : IRule
{
    public string Id => "same-night";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in Wait.All(problem, schedule)
        where wait.Link.SameNight && wait.Last.Night != wait.Work.Night
        // The rule lapses once that night is over.
        where !problem.Passed(problem.Nights[wait.Last.Night].Closes)
        select new Breach(Id, Say.About(problem, wait.Work),
            $"{Say.Work(problem, wait.Work)} is in {Say.Night(problem, wait.Work.Night)}, not in "
                + $"{Say.Night(problem, wait.Last.Night)}, where {Say.Task(problem, wait.Before)} leaves it half-secured.")
            { OnlyFacts = problem.Began(wait.Work) };
}
