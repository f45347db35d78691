using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class AfterRule : IRule
{
    public string Id => "after";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in Wait.All(problem, schedule)
        where wait.Work.From < wait.Last.To
        select new Breach(Id, Say.About(problem, wait.Work),
            $"{Say.Work(problem, wait.Work)} starts {Say.At(problem, wait.Work.From)}, before {Say.Task(problem, wait.Before)} "
                + $"ends {Say.At(problem, wait.Last.To)}.")
            { OnlyFacts = problem.Began(wait.Work) };
}
