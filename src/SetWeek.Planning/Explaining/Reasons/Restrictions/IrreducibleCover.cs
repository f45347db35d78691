namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// Instances that bar every start between them, nearest start first, none of which can be left out: for each start in turn
/// the set that adds the fewest, and of those the one that bars furthest back; then what the others do alone goes.
/// </summary>
internal static class IrreducibleCover
{
    public static IReadOnlyList<StartRestriction> Of(IReadOnlyList<CandidateStart> blockedStarts)
    {
        var chosen = new List<StartRestriction>();
        foreach (var start in blockedStarts)
        {
            if (IsCovered(start, chosen)) continue;
            var stop = start.BlockingSets.OrderBy(set => set.Except(chosen).Count()).ThenBy(set => FirstForbiddenIn(set, start)).First();
            chosen.AddRange(stop.Except(chosen));
        }
        foreach (var hold in chosen.ToArray())
        {
            StartRestriction[] without = [.. chosen.Where(other => other != hold)];
            if (blockedStarts.All(start => IsCovered(start, without))) chosen.Remove(hold);
        }
        return chosen;
    }

    private static bool IsCovered(CandidateStart start, IReadOnlyCollection<StartRestriction> chosen) =>
        start.BlockingSets.Any(set => set.All(chosen.Contains));

    private static int FirstForbiddenIn(IReadOnlyList<StartRestriction> set, CandidateStart start) =>
        set.Max(hold => hold.Forbids(start.Minute) ? hold.FirstForbiddenBefore(start.Minute) : start.Minute);
}
