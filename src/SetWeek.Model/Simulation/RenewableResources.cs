using SetWeek.Model.Problems;

namespace SetWeek.Model.Simulation;

/// <summary>
/// The renewable resources: equipment, and the places in zones. A zone with room for the whole crew is no resource.
/// </summary>
internal sealed class RenewableResources
{
    private readonly int[] resourceOfZone;

    public RenewableResources(Problem problem)
    {
        var capacities = problem.EquipmentCapacities.ToList();
        resourceOfZone = new int[problem.Zones.Count];
        foreach (var zone in problem.Zones)
        {
            resourceOfZone[zone.Index] = zone.MaxPeople < problem.Crew.Count ? capacities.Count : -1;
            if (zone.MaxPeople < problem.Crew.Count) capacities.Add(zone.MaxPeople);
        }
        Capacities = capacities;
    }

    public IReadOnlyList<int> Capacities { get; }

    /// <summary>The resource that is the places in a zone; -1: the zone has room for the whole crew.</summary>
    public int PlacesOf(int zone) => resourceOfZone[zone];

    public IReadOnlyList<ResourceDemand> DemandsOf(ActivityMode mode, int zone)
    {
        List<ResourceDemand> demands = [.. mode.Equipment.GroupBy(pieces => pieces.Equipment)
            .Select(same => new ResourceDemand(same.Key, Math.Min(Capacities[same.Key], same.Sum(pieces => pieces.Count))))];
        if (resourceOfZone[zone] is >= 0 and var places && mode.People > 0)
            demands.Add(new ResourceDemand(places, Math.Min(Capacities[places], mode.People)));
        return [.. demands.Where(demand => demand.Count > 0)];
    }
}
