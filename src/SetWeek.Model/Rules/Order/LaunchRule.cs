using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>The launch rule: all work ends by the launch, less the launch buffer.</summary>
internal sealed class LaunchRule : IRule
{
    public RuleId Id => RuleId.Launch;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        foreach (var work in schedule.Work)
            if (work.To > problem.Launch)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Work(problem, work)} ends {RulePhrases.Time(problem, work.To)}; all work must end by "
                        + $"{RulePhrases.Time(problem, problem.Launch)} for the launch.")
                    // What can no longer be in time, and has to be built, is built late.
                    { IsUnavoidable = problem.HasBegun(work) || work.To <= problem.BindingLaunch(TaskOf(problem, work)) };
    }

    private static IndexedTask? TaskOf(Problem problem, ScheduledWork work) =>
        work.Stint is { } stint ? problem.Stints[stint].Task : null;
}
