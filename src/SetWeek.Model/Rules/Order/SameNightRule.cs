using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>
/// The same-night rule: where a precedence asks for it, every stint of the successor lies in the night in which the
/// predecessor ends. Nothing is left half-secured for the morning. In a re-plan the rule lapses once that night is over.
/// </summary>
internal sealed class SameNightRule : IRule
{
    public RuleId Id => RuleId.SameNight;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from precedence in ScheduledPrecedence.All(problem, schedule)
        where precedence.Precedence.SameNight && precedence.PredecessorWork.Night != precedence.Successor.Night
        // In a re-plan the rule lapses once that night is over.
        where !problem.HasPassed(problem.Nights[precedence.PredecessorWork.Night].Closes)
        select new Breach(Id, RulePhrases.Subject(problem, precedence.Successor),
            $"{RulePhrases.Work(problem, precedence.Successor)} is in "
                + $"{RulePhrases.Night(problem, precedence.Successor.Night)}; it must be in "
                + $"{RulePhrases.Night(problem, precedence.PredecessorWork.Night)}, the same night as "
                + $"{RulePhrases.Task(problem, precedence.PredecessorTask)}.")
            { IsUnavoidable = problem.HasBegun(precedence.Successor) };
}
