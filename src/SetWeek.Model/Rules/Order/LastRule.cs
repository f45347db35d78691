using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Order;

/// <summary>The last rule: the last task starts when every other stint and clean-down of the week has ended.</summary>
internal sealed class LastRule : IRule
{
    public RuleId Id => RuleId.Last;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        if (problem.LastTask is not { } last || schedule.WorkByStint(problem)[last.FirstStint] is not { } first) yield break;
        foreach (var work in schedule.Work)
        {
            var own = work.Stint is { } stint && problem.Stints[stint].Task.Index == last.Index;
            if (!own && work.To > first.From)
                yield return new Breach(Id, RulePhrases.Subject(problem, work),
                    $"{RulePhrases.Task(problem, last)} starts {RulePhrases.Time(problem, first.From)} and comes last, but "
                        + $"{RulePhrases.Work(problem, work)} ends {RulePhrases.Time(problem, work.To)}.")
                    { IsUnavoidable = problem.HasBegun(first) };
        }
    }
}
