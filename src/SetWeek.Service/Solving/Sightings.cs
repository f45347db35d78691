using System.Collections.Concurrent;
using SetWeek.Domain.Plans;
using SetWeek.Scheduling;

namespace SetWeek.Service.Solving;

/// <summary>
/// The best so far of each solve, and the options so far, that this process runs. Kept in memory alone: it is worth nothing
/// once the solve has ended.
/// </summary>
public sealed class Sightings
{
    private readonly ConcurrentDictionary<(string Tenant, string Plan), Seen> best = new();

    public void See(string tenant, string plan, Seen seen) => best[(tenant, plan)] = seen;

    public void Forget(string tenant, string plan) => best.TryRemove((tenant, plan), out _);

    public Seen? Find(string tenant, string plan) => best.GetValueOrDefault((tenant, plan));
}

/// <param name="After">Since the search began.</param>
/// <param name="Options">Of a re-plan; empty otherwise.</param>
public sealed record Seen(TimeSpan After, Plan Best, IReadOnlyList<OfferedOption> Options);
