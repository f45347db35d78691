using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class DueRule : IRule
{
    public RuleId Id => RuleId.Due;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var task in problem.Tasks)
            if (byStint[task.LastStint] is { } last && last.To > task.Due)
                yield return new Breach(Id, RulePhrases.Subject(problem, last),
                    $"{RulePhrases.Work(problem, last)} ends {RulePhrases.Time(problem, last.To)}, after it is due at {RulePhrases.Time(problem, task.Due)}.")
                    // A due that has passed cannot be met any more.
                    { IsUnavoidable = problem.HasBegun(last) || problem.HasPassed(task.Due) };
    }
}
