using SetWeek.Model.Problems;

namespace SetWeek.Planning.Search;

/// <summary>
/// How much of the published work still to come is at another time, or with other people, though no goal counts it: a nuisance to
/// those who have read the plan, and what decides between plans that are as good.
/// </summary>
internal static class ReshuffledWork
{
    /// <summary>Pieces of work, clean-downs too, other times and other people counted apart; 0 for a first plan.</summary>
    public static int Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var now = schedule.Work.Where(work => work.From >= facts.Now).GroupBy(Key)
            .ToDictionary(group => group.Key, group => group.First());
        var count = 0;
        foreach (var was in facts.Published.Work)
        {
            if (was.From < facts.Now || !now.TryGetValue(Key(was), out var stands)) continue;
            if (stands.Night != was.Night || stands.From != was.From) count++;
            if (stands.Assignments.Any(assignment => was.Assignments.All(before => before.Person != assignment.Person))) count++;
        }
        return count;
    }

    /// <summary>A stint is the same work in any night; a clean-down is that of its night.</summary>
    private static (int? Stint, int Zone, int Night) Key(ScheduledWork work) =>
        work.Stint is { } stint ? (stint, -1, -1) : (null, work.Zone, work.Night);
}
