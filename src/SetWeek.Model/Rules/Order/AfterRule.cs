using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>
/// The after rule: no stint starts before the last stint of each of its task's predecessors ends. A predecessor that is not
/// planned binds nothing.
/// </summary>
internal sealed class AfterRule : IRule
{
    public RuleId Id => RuleId.After;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from precedence in ScheduledPrecedence.All(problem, schedule)
        where precedence.Successor.From < precedence.PredecessorWork.To
        select new Breach(Id, RulePhrases.Subject(problem, precedence.Successor),
            $"{RulePhrases.Work(problem, precedence.Successor)} starts "
                + $"{RulePhrases.Time(problem, precedence.Successor.From)}, before "
                + $"{RulePhrases.Task(problem, precedence.PredecessorTask)} ends "
                + $"{RulePhrases.Time(problem, precedence.PredecessorWork.To)}.")
            { IsUnavoidable = problem.HasBegun(precedence.Successor) };
}
