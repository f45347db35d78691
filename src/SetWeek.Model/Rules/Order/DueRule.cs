using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class DueRule : IRule
{
    public string Id => "due";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.ByStint(problem);
        foreach (var task in problem.Activities)
            if (byStint[task.LastStint] is { } last && last.To > task.Due)
                yield return new Breach(Id, Say.About(problem, last),
                    $"{Say.Work(problem, last)} ends {Say.At(problem, last.To)}, after it is due at {Say.At(problem, task.Due)}.")
                    // A due that has passed cannot be met any more.
                    { OnlyFacts = problem.Began(last) || problem.Passed(task.Due) };
    }
}
