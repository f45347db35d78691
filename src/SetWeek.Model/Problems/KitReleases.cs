using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>From when the kits that a task needs let it start: their eta, and never while a counted line falls short.</summary>
internal sealed class KitReleases(Week week, Grid grid)
{
    private readonly HashSet<(string Kit, string Item)> shortLines = [.. ShortLines(week)];

    public int ReleaseOf(WeekTask task) => task.Needs.Count == 0 ? -Problem.Never : task.Needs.Max(ReleaseOf);

    private int ReleaseOf(KitRequirement need)
    {
        var kit = week.Kits.First(kit => kit.Id == need.Kit);
        var barred = kit.Lines
            .Any(line => (need.Item is null || need.Item == line.Item) && shortLines.Contains((kit.Id, line.Item)));
        return barred || kit.Eta is null ? Problem.Never : grid.MinuteOf(kit.Eta.Value);
    }

    /// <summary>A counted line is short where its good pieces do not cover all tasks that name it, placed or not.</summary>
    public static IEnumerable<(string Kit, string Item)> ShortLines(Week week) =>
        from kit in week.Kits
        from line in kit.Lines
        where line.Received is not null && !line.Settled
        let wanted = week.Tasks.SelectMany(task => task.Needs).Where(need => need.Kit == kit.Id && need.Item == line.Item)
            .Sum(need => need.Count)
        where wanted > 0 && line.Received - (line.Damaged ?? 0) < wanted
        select (kit.Id, line.Item);
}
