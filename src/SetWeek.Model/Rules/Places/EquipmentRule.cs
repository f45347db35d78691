using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

internal sealed class EquipmentRule : IRule
{
    public RuleId Id => RuleId.Equipment;

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        for (var piece = 0; piece < problem.EquipmentCapacities.Count; piece++)
        {
            var uses = schedule.Work.Where(work => DemandOf(problem, work, piece) > 0).ToArray();
            foreach (var start in uses)
            {
                var (used, begun) = (0, true);
                foreach (var use in uses)
                {
                    if (use.From > start.From || start.From >= use.To) continue;
                    used += DemandOf(problem, use, piece);
                    begun &= problem.HasBegun(use);
                }
                if (used <= problem.EquipmentCapacities[piece]) continue;
                var id = problem.Week.Store.Equipment[piece].Id;
                yield return new Breach(Id, RulePhrases.Subject(problem, start) with { Equipment = id },
                    $"At {RulePhrases.Time(problem, start.From)} work under way uses {used} of {id}; the store has "
                        + $"{problem.EquipmentCapacities[piece]}.")
                    { IsUnavoidable = begun };
            }
        }
    }

    private static int DemandOf(Problem problem, ScheduledWork work, int piece)
    {
        if (problem.ModeOf(work) is not { } mode) return 0;
        var count = 0;
        foreach (var use in mode.Equipment)
            if (use.Equipment == piece) count += use.Count;
        return count;
    }
}
