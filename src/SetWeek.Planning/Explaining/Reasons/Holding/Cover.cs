namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// Instances that bar every start between them, nearest start first, none of which can be left out: for each start in turn
/// the set that adds the fewest, and of those the one that bars furthest back; then what the others do alone goes.
/// </summary>
internal static class Cover
{
    public static IReadOnlyList<Hold> Of(IReadOnlyList<Start> stopped)
    {
        var chosen = new List<Hold>();
        foreach (var start in stopped)
        {
            if (IsCovered(start, chosen)) continue;
            var stop = start.Stops.OrderBy(set => set.Except(chosen).Count()).ThenBy(set => Reach(set, start)).First();
            chosen.AddRange(stop.Except(chosen));
        }
        foreach (var hold in chosen.ToArray())
        {
            Hold[] without = [.. chosen.Where(other => other != hold)];
            if (stopped.All(start => IsCovered(start, without))) chosen.Remove(hold);
        }
        return chosen;
    }

    private static bool IsCovered(Start start, IReadOnlyCollection<Hold> chosen) =>
        start.Stops.Any(set => set.All(chosen.Contains));

    private static int Reach(IReadOnlyList<Hold> set, Start start) =>
        set.Max(hold => hold.Stops(start.Minute) ? hold.BackTo(start.Minute) : start.Minute);
}
