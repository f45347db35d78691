using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Model.Rules.Places;

internal sealed class EquipmentRule : IRule
{
    public string Id => "equipment";

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        for (var piece = 0; piece < problem.EquipmentCounts.Count; piece++)
        {
            var uses = schedule.Work.Where(work => Pieces(problem, work, piece) > 0).ToArray();
            foreach (var start in uses)
            {
                var (used, begun) = (0, true);
                foreach (var use in uses)
                {
                    if (use.From > start.From || start.From >= use.To) continue;
                    used += Pieces(problem, use, piece);
                    begun &= problem.Began(use);
                }
                if (used <= problem.EquipmentCounts[piece]) continue;
                var id = problem.Week.Store.Equipment[piece].Id;
                yield return new Breach(Id, Say.About(problem, start) with { Equipment = id },
                    $"At {Say.At(problem, start.From)} work under way uses {used} of {id}; the store has "
                        + $"{problem.EquipmentCounts[piece]}.")
                    { OnlyFacts = begun };
            }
        }
    }

    private static int Pieces(Problem problem, Work work, int piece)
    {
        if (problem.WayOf(work) is not { } way) return 0;
        var count = 0;
        foreach (var use in way.Equipment)
            if (use.Equipment == piece) count += use.Count;
        return count;
    }
}
