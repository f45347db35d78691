using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class LaunchRule : IRule
{
    public string Id => "launch";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (work.To > problem.Launch)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Work(problem, work)} ends {Say.At(problem, work.To)}; all work ends by "
                        + $"{Say.At(problem, problem.Launch)} for the launch.")
                    // Once that moment has passed it cannot be met any more.
                    { OnlyFacts = problem.Began(work) || problem.Passed(problem.Launch) };
    }
}
