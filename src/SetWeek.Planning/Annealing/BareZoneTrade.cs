using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>Counts the goal bare for a partial schedule, by the stints that empty and fill each zone with trade.</summary>
internal sealed class BareZoneTrade
{
    private readonly int[] closes;
    private readonly ZoneStints[] zones;

    public BareZoneTrade(Problem problem)
    {
        closes = [.. problem.Nights.Select(night => night.Closes)];
        zones = [.. from zone in problem.Zones
                    where zone.TradePerDay > 0
                    let tasks = problem.Tasks.Where(task => task.Zone == zone.Index).ToArray()
                    let empties = tasks.Where(task => task.Empties)
                        .SelectMany(task => Enumerable.Range(task.FirstStint, task.StintCount)).ToArray()
                    let fills = tasks.Where(task => task.Fills).Select(task => task.LastStint).ToArray()
                    where empties.Length > 0 && fills.Length > 0
                    select new ZoneStints(zone.TradePerDay, empties, fills)];
        MeanTrade = zones.Select(zone => (double)zone.Trade).DefaultIfEmpty(1).Average();
    }

    /// <summary>Mean trade a day of the zones that can become bare; 1 where none can.</summary>
    public double MeanTrade { get; }

    /// <summary>Value of the goal bare.</summary>
    public long Of(PartialSchedule schedule)
    {
        var sum = 0L;
        foreach (var zone in zones)
        {
            var (emptied, filled) = (int.MaxValue, int.MinValue);
            foreach (var stint in zone.Empties)
                if (schedule.Night[stint] >= 0) emptied = Math.Min(emptied, schedule.EndMinute[stint]);
            foreach (var stint in zone.Fills)
                if (schedule.Night[stint] >= 0) filled = Math.Max(filled, schedule.EndMinute[stint]);
            foreach (var close in closes)
                if (emptied <= close && close < filled) sum += zone.Trade;
        }
        return sum;
    }

    /// <param name="Trade">What the zone sells in a day.</param>
    /// <param name="Empties">Stints of the tasks that empty it.</param>
    /// <param name="Fills">The last stint of each task that fills it.</param>
    private sealed record ZoneStints(long Trade, int[] Empties, int[] Fills);
}
