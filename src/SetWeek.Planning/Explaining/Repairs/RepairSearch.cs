using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>
/// Looks for changes that make a plan possible: each kind of change the least that does, each proven by a checked plan, whose
/// goals say what it comes to. Where no single change does, two together.
/// </summary>
/// <param name="week">Proven to have no plan.</param>
/// <param name="conflict">Why.</param>
/// <param name="probe">What is asked of changed weeks, and for how long.</param>
/// <param name="told">Given the repairs so far, best first, each time that there is one more.</param>
internal sealed class RepairSearch(Week week, Conflict conflict, Probe probe, Action<IReadOnlyList<Repair>> told)
{
    /// <summary>
    /// Seconds, or units: for what a glance does not decide, and for bettering a plan so that its goals say something.
    /// </summary>
    private const double Short = 0.1, Patience = 0.5, Long = 2, ToPrice = 0.1;

    /// <summary>Most repairs, most of one kind, and most pairs.</summary>
    private const int Most = 12, MostAlike = 4, MostPairs = 6;

    private readonly List<Found> found = [];

    /// <param name="Before">Changes made already; the offer's comes on top.</param>
    /// <param name="Step">The least that is known to do.</param>
    private sealed record Found(Offer Offer, IReadOnlyList<WeekChange> Before, int Step, IReadOnlyList<WeekChange> Changes,
        Schedule Plan, Repair Repair, long[] Values);

    public IReadOnlyList<Repair> Find()
    {
        var offers = new Offers(week, probe.Replan).For(conflict).ToArray();
        // What helps at the most is told at once; how little of it would do is asked when all have been tried.
        var (open, refused) = (offers.ToList(), new List<Offer>());
        foreach (var patience in (double[])[0, Patience, Long])
        {
            if (patience == Long && found.Any(one => !one.Offer.IsLast)) break;
            foreach (var offer in open.ToArray())
            {
                var possible =
                    Tried(offer, [], changed => patience == 0 ? probe.Glance(changed) : probe.Settle(changed, patience));
                if (possible == false) refused.Add(offer);
                if (possible is not null) open.Remove(offer);
            }
        }
        if (found.Count == 0) Pairs(refused);
        foreach (var patience in (double[])[Short, Patience])
            foreach (var one in Shown().ToArray()) Lessen(one, patience);
        return Best();
    }

    /// <summary>
    /// A change that resolves the conflict leaves another; what resolves that one too is looked for among the changes that
    /// touch it.
    /// </summary>
    /// <param name="refused">Changes after which, proven, there still is no plan.</param>
    private void Pairs(IReadOnlyList<Offer> refused)
    {
        var open = new List<(Offer First, Offer Second)>();
        foreach (var first in refused)
        {
            if (probe.Budget.Spent || found.Count >= MostPairs) return;
            if (probe.Glance(first.Most.Apply(conflict.Alone)).Possible == false) continue;
            var without = first.Most.Apply(week);
            var other = new ConflictSearch(without, probe).Find();
            foreach (var second in new Offers(without, probe.Replan).For(other).OrderBy(offer => offer.IsLast))
            {
                if (found.Count >= MostPairs) return;
                var possible = Tried(second, [first.Most], probe.Glance);
                if (possible is null) open.Add((first, second));
                if (possible != true) continue;
                var least = Least(first, first.Steps - 1, changed => probe.Look(second.Most.Apply(changed), Short), week);
                if (least.Plan is not null) Put(found[^1], found[^1] with { Before = [first.At(least.Step)] }, found[^1].Step);
            }
        }
        // With no pair that a glance sees to do, those that it did not decide are looked at for longer, whole as they are.
        foreach (var (first, second) in open.TakeWhile(_ => found.Count == 0))
            Tried(second, [first.Most], changed => probe.Settle(changed, Patience));
    }

    /// <summary>Whether there is a plan with the most that can be asked; where there is, that is a repair.</summary>
    private bool? Tried(Offer offer, IReadOnlyList<WeekChange> before, Func<Week, Verdict> ask)
    {
        if (probe.Budget.Spent) return null;
        var verdict = ask(offer.Most.Apply(WeekChange.Apply(week, before)));
        return verdict.Plan is not { } plan ? verdict.Possible
            : Put(null, new Found(offer, before, offer.Steps - 1, [], plan, null!, []), offer.Steps - 1) ? true : null;
    }

    /// <summary>The same, with less of it where less does.</summary>
    private void Lessen(Found one, double patience)
    {
        var least = Least(one.Offer, one.Step, changed =>
            patience > Short ? probe.Settle(changed, patience) : probe.Look(changed, patience),
            WeekChange.Apply(week, one.Before));
        if (least.Plan is { } plan) Put(one, one with { Plan = plan }, least.Step);
    }

    /// <summary>The least step with which there is a plan, by halving, with that plan; the one given is known to do.</summary>
    private (int Step, Schedule? Plan) Least(Offer offer, int known, Func<Week, Verdict> ask, Week on)
    {
        var (low, high, plan) = (0, known, (Schedule?)null);
        while (low < high && !probe.Budget.Spent)
        {
            var middle = (low + high) / 2;
            if (ask(offer.At(middle).Apply(on)).Plan is not { } there) low = middle + 1;
            else (high, plan) = (middle, there);
        }
        return (high, plan);
    }

    /// <summary>Proven, and bettered a little so that its goals say something; in the place of what it lessens.</summary>
    private bool Put(Found? instead, Found one, int step)
    {
        WeekChange[] changes = [.. one.Before, one.Offer.At(step)];
        var problem = Problem.Of(WeekChange.Apply(week, changes), probe.Replan);
        var incumbent = new Incumbent(problem);
        incumbent.Offer(one.Plan);
        var part = probe.Budget.Part(ToPrice);
        new GenerationSearch(problem, incumbent, part).Improve();
        probe.Budget.Use(part.Used);
        if (incumbent is not { Values: { } values, Best: { } plan }) return false;
        if (instead is not null) found.Remove(instead);
        found.Add(one with
        {
            Step = step, Changes = changes, Plan = plan, Values = values,
            Repair = new Repair(changes,
                [.. problem.Goals.Select((goal, index) => new GoalValue(goal.Goal, values[index], null))],
                InWords.Fitting(string.Join(' ', changes.Select((change, index) =>
                    change.Sentence(WeekChange.Apply(week, changes.Take(index))))))),
        });
        told(Best());
        return true;
    }

    private IReadOnlyList<Repair> Best() => [.. Shown().Select(one => one.Repair)];

    /// <summary>
    /// In the order of the goals; what moves the launch, and then what leaves a display out, comes last. Of one kind only so
    /// many.
    /// </summary>
    private IEnumerable<Found> Shown() => found.DistinctBy(InAnyOrder)
        .GroupBy(one => string.Join('+', one.Changes.Select(change => change.Kind)))
        .SelectMany(alike => alike.OrderBy(one => one.Values, ByGoals).Take(MostAlike))
        .OrderBy(one => one.Changes.Max(change => change is LeaveOut ? 2 : change is LaunchMoved ? 1 : 0))
        .ThenBy(one => one.Values, ByGoals)
        .Take(Most);

    /// <summary>One and then the other is the same as the other and then the one.</summary>
    private static string InAnyOrder(Found one) =>
        string.Join('\n', one.Changes.Select(change => change.ToString()).Order(StringComparer.Ordinal));

    private static Comparer<long[]> ByGoals { get; } =
        Comparer<long[]>.Create((one, other) => one.AsSpan().SequenceCompareTo(other));
}
