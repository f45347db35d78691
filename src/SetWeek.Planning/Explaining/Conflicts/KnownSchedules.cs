using SetWeek.Model.Problems;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// The last schedules found for variants of one week. The variants differ little, so a schedule of one often keeps the rules of
/// another, and a check of it takes about a millisecond.
/// </summary>
internal sealed class KnownSchedules
{
    private const int MaxCount = 24;

    private readonly List<(Problem Problem, Schedule Schedule)> newestFirst = [];

    public void Add(Problem problem, Schedule schedule)
    {
        if (newestFirst.Any(known => ReferenceEquals(known.Schedule, schedule))) return;
        newestFirst.Insert(0, (problem, schedule));
        if (newestFirst.Count > MaxCount) newestFirst.RemoveAt(MaxCount);
    }

    /// <summary>Offers schedules until one is accepted. The incumbent checks every rule of its own problem.</summary>
    public void OfferTo(Incumbent incumbent, Problem problem)
    {
        foreach (var known in newestFirst)
            if (incumbent.Best is null && HaveSameIndexes(known.Problem, problem)) incumbent.Offer(known.Schedule);
    }

    /// <summary>True if indexes and minutes mean the same in both: variants may have more people, or open earlier.</summary>
    private static bool HaveSameIndexes(Problem first, Problem second) =>
        first.Crew.Count == second.Crew.Count && first.Stints.Count == second.Stints.Count
        && first.Zones.Count == second.Zones.Count && first.Skills.SequenceEqual(second.Skills)
        && first.Week.Nights.Count == second.Week.Nights.Count && first.Week.Nights[0].Opens == second.Week.Nights[0].Opens;
}
