using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class DryingRule : IRule
{
    public string Id => "drying";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in Wait.All(problem, schedule)
        let dry = wait.Last.To + wait.Link.DryMinutes
        // A start before the end itself is for the after rule to name.
        where wait.Work.From >= wait.Last.To && wait.Work.From < dry
        select new Breach(Id, Say.About(problem, wait.Work),
            $"{Say.Work(problem, wait.Work)} starts {Say.At(problem, wait.Work.From)}, before {Say.Task(problem, wait.Before)} "
                + $"is dry at {Say.At(problem, dry)}.")
            { OnlyFacts = problem.Began(wait.Work) };
}
