using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class AfterRule : IRule
{
    public RuleId Id => RuleId.After;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in ScheduledPrecedence.All(problem, schedule)
        where wait.Successor.From < wait.PredecessorWork.To
        select new Breach(Id, RulePhrases.Subject(problem, wait.Successor),
            $"{RulePhrases.Work(problem, wait.Successor)} starts {RulePhrases.Time(problem, wait.Successor.From)}, before {RulePhrases.Task(problem, wait.PredecessorTask)} "
                + $"ends {RulePhrases.Time(problem, wait.PredecessorWork.To)}.")
            { IsUnavoidable = problem.HasBegun(wait.Successor) };
}
