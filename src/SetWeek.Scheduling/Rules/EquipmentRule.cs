using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

internal sealed class EquipmentRule : IRule
{
    public string Id => "equipment";

    public void Post(ExactModel model)
    {
    }

    public IEnumerable<Breach> Check(Problem problem, Schedule schedule)
    {
        for (var piece = 0; piece < problem.EquipmentCounts.Count; piece++)
        {
            var uses = schedule.Work.Select(work => (Work: work, Count: Pieces(problem, work, piece))).Where(use => use.Count > 0).ToArray();
            foreach (var (start, _) in uses)
            {
                var under = uses.Where(use => use.Work.From <= start.From && start.From < use.Work.To).ToArray();
                var used = under.Sum(use => use.Count);
                if (used <= problem.EquipmentCounts[piece]) continue;
                var id = problem.Week.Store.Equipment[piece].Id;
                yield return new Breach(Id, Say.About(problem, start) with { Equipment = id },
                    $"At {Say.At(problem, start.From)} work under way uses {used} of {id}; the store has {problem.EquipmentCounts[piece]}.")
                    { OnlyFacts = under.All(use => problem.Began(use.Work)) };
            }
        }
    }

    private static int Pieces(Problem problem, Work work, int piece)
    {
        var count = 0;
        foreach (var use in problem.WayOf(work)?.Equipment ?? [])
            if (use.Equipment == piece) count += use.Count;
        return count;
    }
}
