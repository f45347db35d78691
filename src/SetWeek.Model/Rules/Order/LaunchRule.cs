using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

internal sealed class LaunchRule : IRule
{
    public RuleId Id => RuleId.Launch;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (work.To > problem.Launch)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} ends {RulePhrases.Time(problem, work.To)}; all work ends by "
                        + $"{RulePhrases.Time(problem, problem.Launch)} for the launch.")
                    // Once that moment has passed it cannot be met any more.
                    { IsUnavoidable = problem.HasBegun(work) || problem.HasPassed(problem.Launch) };
    }
}
