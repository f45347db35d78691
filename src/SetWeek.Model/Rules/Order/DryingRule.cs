using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>
/// The drying rule: no stint starts before the predecessor's last stint has ended and the minimum lag has passed. The lag is
/// elapsed time, so the day between two nights counts.
/// </summary>
internal sealed class DryingRule : IRule
{
    public RuleId Id => RuleId.Drying;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from precedence in ScheduledPrecedence.All(problem, schedule)
        let dry = precedence.PredecessorWork.To + precedence.Precedence.LagMinutes
        // The after rule reports a start before the predecessor's end.
        where precedence.Successor.From >= precedence.PredecessorWork.To && precedence.Successor.From < dry
        select new Breach(Id, RulePhrases.Subject(problem, precedence.Successor),
            $"{RulePhrases.Work(problem, precedence.Successor)} starts "
                + $"{RulePhrases.Time(problem, precedence.Successor.From)}, before "
                + $"{RulePhrases.Task(problem, precedence.PredecessorTask)} is dry at {RulePhrases.Time(problem, dry)}.")
            { IsUnavoidable = problem.HasBegun(precedence.Successor) };
}
