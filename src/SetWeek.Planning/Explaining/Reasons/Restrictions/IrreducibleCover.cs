namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Chooses restrictions that together block all given starts and of which none can be left out. Each start has one or more sets
/// of restrictions that block it. A greedy pass visits the starts from the latest to the earliest. For a start that is not yet
/// blocked, it takes the set that adds the fewest restrictions; of equal sets, the one that also blocks the earliest start. A
/// second pass removes restrictions that the others make redundant.
/// </summary>
internal static class IrreducibleCover
{
    public static IReadOnlyList<StartRestriction> Of(IReadOnlyList<CandidateStart> blockedStarts)
    {
        var chosen = new List<StartRestriction>();
        foreach (var start in blockedStarts)
        {
            if (IsCovered(start, chosen)) continue;
            var best = start.BlockingSets
                .OrderBy(set => set.Except(chosen).Count()).ThenBy(set => FirstForbiddenIn(set, start)).First();
            chosen.AddRange(best.Except(chosen));
        }
        foreach (var restriction in chosen.ToArray())
        {
            StartRestriction[] others = [.. chosen.Where(other => other != restriction)];
            if (blockedStarts.All(start => IsCovered(start, others))) chosen.Remove(restriction);
        }
        return chosen;
    }

    private static bool IsCovered(CandidateStart start, IReadOnlyCollection<StartRestriction> chosen) =>
        start.BlockingSets.Any(set => set.All(chosen.Contains));

    private static int FirstForbiddenIn(IReadOnlyList<StartRestriction> set, CandidateStart start) =>
        set.Max(restriction =>
            restriction.Forbids(start.Minute) ? restriction.FirstForbiddenBefore(start.Minute) : start.Minute);
}
