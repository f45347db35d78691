using SetWeek.Model.Problems;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What is shared and counted: pieces of equipment, and places in a zone. A zone that has room for the whole crew is none.
/// </summary>
internal sealed class Pools
{
    private readonly int[] ofZone;

    public Pools(Problem problem)
    {
        var sizes = problem.EquipmentCounts.ToList();
        ofZone = new int[problem.Zones.Count];
        foreach (var zone in problem.Zones)
        {
            ofZone[zone.Index] = zone.MaxPeople < problem.Crew.Count ? sizes.Count : -1;
            if (zone.MaxPeople < problem.Crew.Count) sizes.Add(zone.MaxPeople);
        }
        Sizes = sizes;
    }

    public IReadOnlyList<int> Sizes { get; }

    public IReadOnlyList<Use> Of(Way way, int zone)
    {
        List<Use> uses = [.. way.Equipment.GroupBy(pieces => pieces.Equipment)
            .Select(same => new Use(same.Key, Math.Min(Sizes[same.Key], same.Sum(pieces => pieces.Count))))];
        if (ofZone[zone] is >= 0 and var pool && way.People > 0) uses.Add(new Use(pool, Math.Min(Sizes[pool], way.People)));
        return [.. uses.Where(use => use.Count > 0)];
    }
}
