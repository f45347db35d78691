using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class DryingRule : IRule
{
    public RuleId Id => RuleId.Drying;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in ScheduledPrecedence.All(problem, schedule)
        let dry = wait.PredecessorWork.To + wait.Precedence.LagMinutes
        // A start before the end itself is for the after rule to name.
        where wait.Successor.From >= wait.PredecessorWork.To && wait.Successor.From < dry
        select new Breach(Id, RulePhrases.Subject(problem, wait.Successor),
            $"{RulePhrases.Work(problem, wait.Successor)} starts {RulePhrases.Time(problem, wait.Successor.From)}, before {RulePhrases.Task(problem, wait.PredecessorTask)} "
                + $"is dry at {RulePhrases.Time(problem, dry)}.")
            { IsUnavoidable = problem.HasBegun(wait.Successor) };
}
