using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// Computes release times from kits: a task can start once all its kits have arrived, and never while a counted line that it
/// needs is short.
/// </summary>
internal sealed class KitReleases(Week week, Grid grid)
{
    private readonly HashSet<(string Kit, string Item)> shortLines =
        [.. KitShortage.AllOf(week).Select(line => (line.Kit, line.Item))];

    /// <summary>
    /// Minute from which all kits of the task are there; <see cref="Problem.Never"/> if one has no eta or a short line.
    /// </summary>
    public int ReleaseOf(WeekTask task) => task.Needs.Count == 0 ? -Problem.Never : task.Needs.Max(ReleaseOf);

    private int ReleaseOf(KitRequirement need)
    {
        var kit = week.Kits.First(kit => kit.Id == need.Kit);
        var barred = kit.Lines
            .Any(line => (need.Item is null || need.Item == line.Item) && shortLines.Contains((kit.Id, line.Item)));
        return barred || kit.Eta is null ? Problem.Never : grid.MinuteOf(kit.Eta.Value);
    }
}
