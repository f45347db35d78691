using SetWeek.Model.Problems;

namespace SetWeek.Model.Goals;

/// <summary>A zone that is bare at the closes of a night.</summary>
/// <param name="Night">Index of the night.</param>
/// <param name="Zone">Index of the zone.</param>
public readonly record struct BareZone(int Night, int Zone);

/// <summary>The zones that a schedule leaves bare while the store is open.</summary>
public static class BareZones
{
    /// <summary>
    /// The zones that are bare at the closes of a night, in the order of nights and zones: a stint of a placed task that empties
    /// the zone has ended by then, and the last stint of some placed task that fills it has not.
    /// </summary>
    public static IReadOnlyList<BareZone> Of(Problem problem, Schedule schedule)
    {
        var (work, placed) = (schedule.WorkByStint(problem), schedule.PlacedDisplays(problem));
        var emptied = Enumerable.Repeat(Problem.Never, problem.Zones.Count).ToArray();
        var filled = Enumerable.Repeat(-Problem.Never, problem.Zones.Count).ToArray();
        foreach (var task in problem.Tasks.Where(task => placed[task.Display]))
        {
            if (task.Empties)
                foreach (var planned in work.AsSpan(task.FirstStint, task.StintCount))
                    emptied[task.Zone] = Math.Min(emptied[task.Zone], planned?.To ?? Problem.Never);
            if (task.Fills) filled[task.Zone] = Math.Max(filled[task.Zone], work[task.LastStint]?.To ?? Problem.Never);
        }
        return [.. from night in problem.Nights
                   from zone in problem.Zones
                   where emptied[zone.Index] <= night.Closes && night.Closes < filled[zone.Index]
                   select new BareZone(night.Index, zone.Index)];
    }
}
