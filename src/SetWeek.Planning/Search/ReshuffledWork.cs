using SetWeek.Model.Problems;

namespace SetWeek.Planning.Search;

/// <summary>
/// Counts published work whose time or people a re-plan changes. No goal counts this, but it confuses those who know the
/// published plan. The count breaks ties between plans that are equal in every goal.
/// </summary>
internal static class ReshuffledWork
{
    /// <summary>
    /// The count over stints and clean-downs that had not started by now: 1 for another start, 1 for a person who was not on
    /// it before. 0 for a first plan.
    /// </summary>
    public static int Measure(Problem problem, Schedule schedule)
    {
        if (problem.Facts is not { } facts) return 0;
        var plannedWork = schedule.Work.Where(work => work.From >= facts.Now).GroupBy(Key)
            .ToDictionary(group => group.Key, group => group.First());
        var count = 0;
        foreach (var published in facts.Published.Work)
        {
            if (published.From < facts.Now || !plannedWork.TryGetValue(Key(published), out var planned)) continue;
            if (planned.Night != published.Night || planned.From != published.From) count++;
            if (planned.Assignments.Any(assignment => published.Assignments.All(before => before.Person != assignment.Person)))
                count++;
        }
        return count;
    }

    /// <summary>A stint keeps its identity in any night; a clean-down belongs to its night.</summary>
    private static (int? Stint, int Zone, int Night) Key(ScheduledWork work) =>
        work.Stint is { } stint ? (stint, -1, -1) : (null, work.Zone, work.Night);
}
