using System.Collections.Concurrent;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;

namespace SetWeek.Service.Solving;

/// <summary>
/// The best plan and the options found so far by each search that runs on this node. It is kept in memory only, because it has
/// no use once the search has ended.
/// </summary>
public sealed class SolveProgress
{
    private readonly ConcurrentDictionary<(string Tenant, string Plan), ProgressSnapshot> best = new();

    public void Report(string tenant, string plan, ProgressSnapshot snapshot) => best[(tenant, plan)] = snapshot;

    public void Remove(string tenant, string plan) => best.TryRemove((tenant, plan), out _);

    public ProgressSnapshot? Find(string tenant, string plan) => best.GetValueOrDefault((tenant, plan));
}

/// <param name="After">Time from the start of the search.</param>
/// <param name="Options">The options of a re-plan; empty for a first plan.</param>
public sealed record ProgressSnapshot(TimeSpan After, Plan Best, IReadOnlyList<OfferedOption> Options);
