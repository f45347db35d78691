using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>The due rule: a task with a due night ends by the closes of that night.</summary>
internal sealed class DueRule : IRule
{
    public RuleId Id => RuleId.Due;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var task in problem.Tasks)
            if (byStint[task.LastStint] is { } last && last.To > task.Due)
                yield return new Breach(Id, RulePhrases.Subject(problem, last),
                    $"{RulePhrases.Work(problem, last)} ends {RulePhrases.Time(problem, last.To)}, after it is due at "
                        + $"{RulePhrases.Time(problem, task.Due)}.")
                    // What can no longer be in time, and has to be built, is built late.
                    { IsUnavoidable = problem.HasBegun(last) || last.To <= problem.BindingDue(task) };
    }
}
