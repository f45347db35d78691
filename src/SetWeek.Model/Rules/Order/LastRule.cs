using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class LastRule : IRule
{
    public string Id => "last";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.LastActivity is not { } last || schedule.ByStint(problem)[last.FirstStint] is not { } first) yield break;
        foreach (var work in schedule.Work)
        {
            var own = work.Stint is { } stint && problem.Stints[stint].Task.Index == last.Index;
            if (!own && work.To > first.From)
                yield return new Breach(Id, Say.About(problem, work),
                    $"{Say.Task(problem, last)} starts {Say.At(problem, first.From)} and comes last, but "
                        + $"{Say.Work(problem, work)} ends {Say.At(problem, work.To)}.")
                    { OnlyFacts = problem.Began(first) };
        }
    }
}
