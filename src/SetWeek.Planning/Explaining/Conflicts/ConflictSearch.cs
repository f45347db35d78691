using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>
/// Rule instances of a week that cannot hold together.
/// </summary>
/// <param name="Members">In the order in which a lead would read them.</param>
/// <param name="Smallest">Proven: without any one of them, all else of the week lifted, there is a plan.</param>
/// <param name="Alone">The week with everything lifted that is not a member: proven to have no plan.</param>
internal sealed record Conflict(IReadOnlyList<Relief> Members, bool Smallest, Week Alone);

/// <summary>
/// Looks for a smallest set of rule instances that cannot hold together, by lifting: what can be lifted and still leaves no
/// plan is no part of it. First among the rules as wholes, then among the instances of those that are in it.
/// </summary>
/// <param name="week">Proven to have no plan.</param>
/// <param name="probe">What is asked of changed weeks, and for how long.</param>
/// <param name="proof">How long it took, in seconds or units, to prove that.</param>
internal sealed class ConflictSearch(Week week, Probe probe, double proof = 0)
{
    /// <summary>Instances of one rule that are named one by one; more are named together, as one.</summary>
    private const int OneByOne = 3;

    /// <summary>
    /// Seconds, or units, for what a glance does not decide: at least, and as often as long as it took to prove the week.
    /// </summary>
    private const double Least = 0.3, Often = 1.5, Oftener = 5;

    private readonly IReadOnlyList<Relief> all = AllReliefs.Of(week);
    private readonly List<Relief> kept = [];
    private readonly List<Relief> lifted = [];
    private readonly Dictionary<Relief, Schedule> without = new(ReferenceEqualityComparer.Instance);

    public Conflict Find()
    {
        // What a lead would rather read of is tried last; without all that must stand there mostly is a plan at once.
        kept.AddRange(all.Reverse());
        Drop([.. kept.Where(relief => relief.Rule != "whole")], probe.Glance);
        Drop([.. kept.Where(relief => relief.Rule == "whole")], probe.Glance);
        foreach (var patience in (double[])[Math.Max(Least, Often * proof), Math.Max(4 * Least, Oftener * proof)])
            Drop([.. kept.Where(Open)], changed => probe.Settle(changed, patience));
        foreach (var group in kept.Where(relief => relief.Parts.Count > 0).ToArray()) Refine(group);
        return new([.. kept.OrderBy(Place)], kept.All(Proven), Without([]));
    }

    private bool Open(Relief relief) => !without.ContainsKey(relief);

    /// <summary>Halves first: mostly a few of many are in it.</summary>
    private void Drop(IReadOnlyList<Relief> chunk, Func<Week, Verdict> ask)
    {
        if (chunk.Count == 0 || probe.Budget.Spent || Take(chunk, ask(Without(chunk))) || chunk.Count == 1) return;
        Drop([.. chunk.Take(chunk.Count / 2)], ask);
        Drop([.. chunk.Skip(chunk.Count / 2)], ask);
    }

    /// <summary>True where the instances were lifted for good; notes the plan that is there without one.</summary>
    private bool Take(IReadOnlyList<Relief> chunk, Verdict verdict)
    {
        if (verdict.Plan is { } plan && chunk.Count == 1) without[chunk[0]] = plan;
        if (verdict.Possible != false) return false;
        kept.RemoveAll(chunk.Contains);
        lifted.AddRange(chunk);
        return true;
    }

    /// <summary>
    /// The instances of a rule in the conflict that are in it themselves. Where they are many, or not all decided, they stay
    /// one: that there is a plan without them all is known already.
    /// </summary>
    private void Refine(Relief group)
    {
        if (probe.Budget.Spent) return;
        var at = kept.IndexOf(group);
        kept.RemoveAt(at);
        kept.InsertRange(at, group.Parts);
        Drop(group.Parts, probe.Glance);
        var left = group.Parts.Where(kept.Contains).ToArray();
        if (left.Length is > 1 and <= OneByOne) Drop([.. left.Where(Open)], changed => probe.Settle(changed, Least));
        left = [.. group.Parts.Where(kept.Contains)];
        if (left.Length <= OneByOne && (left.Length == 1 || !left.Any(Open)))
        {
            if (left.Length == 1 && without.TryGetValue(group, out var known)) without.TryAdd(left[0], known);
            return;
        }
        var together = group.Of(left);
        at = kept.IndexOf(left[0]);
        kept.RemoveAll(left.Contains);
        kept.Insert(at, together);
        if (without.TryGetValue(group, out var plan)) without[together] = plan;
    }

    /// <summary>More was lifted since the plan without it was found: mostly it still is one, and else there is another.</summary>
    private bool Proven(Relief relief)
    {
        if (Open(relief) || probe.Budget.Stop.IsCancellationRequested) return false;
        var alone = Without([relief]);
        return Checker.Check(Problem.Of(alone, probe.Replan), without[relief]).Count == 0
            || probe.Settle(alone, Least).Possible == true;
    }

    private Week Without(IReadOnlyList<Relief> chunk) =>
        lifted.Concat(chunk).Aggregate(week, (bare, relief) => relief.Lift(bare));

    private int Place(Relief relief)
    {
        for (var place = 0; place < all.Count; place++)
            if (all[place].Rule == relief.Rule) return place;
        return all.Count;
    }
}
