using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What is shared and counted: pieces of equipment, and places in a zone. A zone that has room for the whole crew is none.
/// </summary>
internal sealed class RenewableResources
{
    private readonly int[] resourceOfZone;

    public RenewableResources(Problem problem)
    {
        var sizes = problem.EquipmentCapacities.ToList();
        resourceOfZone = new int[problem.Zones.Count];
        foreach (var zone in problem.Zones)
        {
            resourceOfZone[zone.Index] = zone.MaxPeople < problem.Crew.Count ? sizes.Count : -1;
            if (zone.MaxPeople < problem.Crew.Count) sizes.Add(zone.MaxPeople);
        }
        Capacities = sizes;
    }

    public IReadOnlyList<int> Capacities { get; }

    public IReadOnlyList<ResourceDemand> DemandsOf(ActivityMode mode, int zone)
    {
        List<ResourceDemand> uses = [.. mode.Equipment.GroupBy(pieces => pieces.Equipment)
            .Select(same => new ResourceDemand(same.Key, Math.Min(Capacities[same.Key], same.Sum(pieces => pieces.Count))))];
        if (resourceOfZone[zone] is >= 0 and var pool && mode.People > 0) uses.Add(new ResourceDemand(pool, Math.Min(Capacities[pool], mode.People)));
        return [.. uses.Where(use => use.Count > 0)];
    }
}
