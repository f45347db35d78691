using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// The counts of kits that have arrived. Before its arrival a kit is planned as complete. After it, a line counts as there only
/// once it is counted, or confirmed as complete.
/// </summary>
public static class KitCounts
{
    /// <summary>What keeps tasks from starting although the kit is in the store.</summary>
    /// <param name="Uncounted">Items that nobody has counted or confirmed.</param>
    /// <param name="Short">Items with fewer good pieces than the tasks need, not settled.</param>
    /// <param name="Barred">The tasks that need such an item.</param>
    public sealed record Missing(
        IReadOnlyList<string> Uncounted, IReadOnlyList<string> Short, IReadOnlyList<string> Barred, string Sentence);

    /// <returns>Null if the kit has not arrived, or if it keeps no task from starting.</returns>
    public static Missing? MissingOf(this StoreWeek week, string kit)
    {
        if (!week.Arrivals.ContainsKey(kit)) return null;
        var found = week.Week.Kits.First(known => known.Id == kit);
        var required = NeedsOf(week, kit).Where(need => need.Item is not null).ToLookup(need => need.Item, need => need.Count);
        var whole = NeedsWhole(week, kit);
        var uncounted = found.Lines.Where(line => IsUncounted(line) && (whole || required.Contains(line.Item)))
            .Select(line => line.Item).ToList();
        var tooFew = found.Lines.Where(line => !line.Settled && line.Received is { } received
            && received - (line.Damaged ?? 0) < required[line.Item].Sum()).Select(line => line.Item).ToList();
        var barred = week.Week.Tasks.Where(task => task.Needs.Any(need => need.Kit == kit
            && (whole && uncounted.Count > 0 || tooFew.Count > 0 && need.Item is null
                || need.Item is { } item && (uncounted.Contains(item) || tooFew.Contains(item)))));
        var tasks = barred.Select(task => task.Id).ToList();
        return tasks.Count == 0 ? null : new Missing(uncounted, tooFew, tasks, SentenceOf(found, uncounted, tooFew, tasks.Count));
    }

    /// <summary>
    /// The kit as the planner reads it. An uncounted line of an arrived kit has no pieces; if a task needs the whole kit, its
    /// arrival is unknown. If somebody has said when it will be counted, it arrives then instead, complete.
    /// </summary>
    public static Kit ForPlanner(this StoreWeek week, Kit kit) =>
        !week.Arrivals.ContainsKey(kit.Id) || !kit.Lines.Any(IsUncounted) ? kit
        : week.CountExpected.TryGetValue(kit.Id, out var counted) ? kit with { Eta = counted }
        : NeedsWhole(week, kit.Id) ? kit with { Eta = null }
        : kit with { Lines = [.. kit.Lines.Select(line => IsUncounted(line) ? line with { Received = 0 } : line)] };

    private static IEnumerable<KitRequirement> NeedsOf(StoreWeek week, string kit) =>
        week.Week.Tasks.SelectMany(task => task.Needs).Where(need => need.Kit == kit);

    private static bool NeedsWhole(StoreWeek week, string kit) => NeedsOf(week, kit).Any(need => need.Item is null);

    public static bool IsUncounted(KitLine line) => line.Received is null;

    private static string SentenceOf(Kit kit, List<string> uncounted, List<string> tooFew, int tasks)
    {
        var wait = tasks == 1 ? "1 task waits" : $"{tasks} tasks wait";
        var count = uncounted.Count == 0 ? ""
            : $" Not counted yet: {Phrases.List(uncounted.Select(IdWords.Spaced))}. Count them, let a lead confirm the kit as complete, "
                + "or say when they will be counted.";
        var settle = tooFew.Count == 0 ? ""
            : $" Too few good pieces: {Phrases.List(tooFew.Select(IdWords.Spaced))}. Wait for the rest, or accept what is there.";
        return $"“{kit.Name}” arrived, but {wait} for it.{count}{settle}";
    }
}
