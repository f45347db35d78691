using System.Collections.Concurrent;
using SetWeek.Scheduling;

namespace SetWeek.Service.Plans;

/// <summary>
/// The best so far of each solve that this process runs. Kept in memory alone: it is worth nothing once the solve has ended.
/// </summary>
public sealed class Sightings
{
    private readonly ConcurrentDictionary<(string Tenant, string Plan), Sighting> best = new();

    public void See(string tenant, string plan, Sighting sighting) => best[(tenant, plan)] = sighting;

    public void Forget(string tenant, string plan) => best.TryRemove((tenant, plan), out _);

    public Sighting? Find(string tenant, string plan) => best.GetValueOrDefault((tenant, plan));
}
