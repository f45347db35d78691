using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

/// <summary>
/// The equipment rule: at every moment the stints under way use no more pieces of a kind than the store has. Usage rises only
/// where work starts, so the check looks at each start.
/// </summary>
internal sealed class EquipmentRule : IRule
{
    public RuleId Id => RuleId.Equipment;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        for (var kind = 0; kind < problem.EquipmentCapacities.Count; kind++)
        {
            var uses = schedule.Work.Where(work => DemandOf(problem, work, kind) > 0).ToArray();
            foreach (var start in uses)
            {
                var (used, begun) = (0, true);
                foreach (var use in uses)
                {
                    if (use.From > start.From || start.From >= use.To) continue;
                    used += DemandOf(problem, use, kind);
                    begun &= problem.HasBegun(use);
                }
                if (used <= problem.EquipmentCapacities[kind]) continue;
                var id = problem.Week.Store.Equipment[kind].Id;
                yield return new Breach(Id, RulePhrases.Subject(problem, start) with { Equipment = id },
                    $"At {RulePhrases.Time(problem, start.From)} work under way uses {used} of {id}; the store has "
                        + $"{problem.EquipmentCapacities[kind]}.")
                    { IsUnavoidable = begun };
            }
        }
    }

    private static int DemandOf(Problem problem, ScheduledWork work, int kind)
    {
        if (problem.ModeOf(work) is not { } mode) return 0;
        var count = 0;
        foreach (var use in mode.Equipment)
            if (use.Equipment == kind) count += use.Count;
        return count;
    }
}
