using System.Collections.Immutable;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// What makes facts retractable: the facts are kept in the order in which they were recorded. When one is taken back, the state
/// is folded again from those that still count. So it is as if the retracted fact had never been.
/// </summary>
public sealed partial record StoreWeek
{
    /// <summary>The facts recorded so far, also those taken back.</summary>
    public required FactLog Facts { get; init; }

    /// <summary>By report: the stops of work, also those that were lifted.</summary>
    public ImmutableSortedDictionary<string, WorkStopped> Stops { get; init; } =
        ImmutableSortedDictionary.Create<string, WorkStopped>(StringComparer.Ordinal);

    public ImmutableHashSet<string> LiftedStops { get; init; } = [];

    /// <summary>The stops that no lead has lifted yet.</summary>
    public IEnumerable<WorkStopped> StandingStops => Stops.Values.Where(stop => !LiftedStops.Contains(stop.Report));

    private StoreWeek WithBroken(string plan, PlanBroken? broken) =>
        Published?.PlanId == plan ? this with { Published = Published with { Broken = broken } } : this;

    /// <summary>Records a fact. A report whose id is known changes nothing.</summary>
    private StoreWeek Taking(IWeekEvent e)
    {
        if (e is IFloorReport report && Facts.Find(report.Report) is not null) return this;
        var facts = Facts.With(e, out var fact);
        if (facts.CountsTheSameAs(Facts, fact)) return (facts.Counts(fact) ? After(this, fact) : this) with { Facts = facts };
        return facts.Counting.Aggregate(Open(facts.Opened), After) with { Facts = facts, Published = Published };
    }
}

/// <summary>The published plan, by which the store works.</summary>
public sealed record PublishedPlan(string PlanId, string InputHash, Plan Plan)
{
    /// <summary>Why it no longer holds; null if it holds.</summary>
    public PlanBroken? Broken { get; init; }
}
