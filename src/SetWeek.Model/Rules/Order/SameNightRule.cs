using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class SameNightRule : IRule
{
    public RuleId Id => RuleId.SameNight;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule) =>
        from wait in ScheduledPrecedence.All(problem, schedule)
        where wait.Precedence.SameNight && wait.PredecessorWork.Night != wait.Successor.Night
        // The rule lapses once that night is over.
        where !problem.HasPassed(problem.Nights[wait.PredecessorWork.Night].Closes)
        select new Breach(Id, RulePhrases.Subject(problem, wait.Successor),
            $"{RulePhrases.Work(problem, wait.Successor)} is in {RulePhrases.Night(problem, wait.Successor.Night)}, not in "
                + $"{RulePhrases.Night(problem, wait.PredecessorWork.Night)}, where {RulePhrases.Task(problem, wait.PredecessorTask)} leaves it half-secured.")
            { IsUnavoidable = problem.HasBegun(wait.Successor) };
}
