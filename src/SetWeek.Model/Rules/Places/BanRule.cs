using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

/// <summary>The ban rule: no stint of a task with a ban's trait overlaps the ban.</summary>
internal sealed class BanRule : IRule
{
    public RuleId Id => RuleId.Ban;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        var bans = problem.Nights.SelectMany(night => night.Bans).ToArray();
        if (bans.Length == 0) yield break;
        foreach (var work in schedule.Work)
        {
            if (work.Stint is not { } stint) continue;
            foreach (var ban in bans)
                if (problem.Stints[stint].Task.Traits.Contains(ban.Trait) && ban.Span.Overlaps(work.Span))
                    yield return new Breach(Id, RulePhrases.Subject(problem, work),
                        $"{RulePhrases.Work(problem, work)} is {ban.Trait} and runs {RulePhrases.Span(problem, work.Span)}, "
                            + $"while {ban.Trait} work is barred from {RulePhrases.Span(problem, ban.Span)}.")
                        { IsUnavoidable = problem.HasBegun(work) };
        }
    }
}
