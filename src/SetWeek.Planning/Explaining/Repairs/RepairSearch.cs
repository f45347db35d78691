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
/// <param name="onProgress">Given the repairs so far, best first, each time that there is one more.</param>
internal sealed class RepairSearch(Week week, Conflict conflict, FeasibilityProbe probe, Action<IReadOnlyList<Repair>> onProgress)
{
    /// <summary>
    /// Seconds, or units: for what a glance does not decide, and for bettering a plan so that its goals say something.
    /// </summary>
    private const double QuickLimit = 0.1, DecisionLimit = 0.5, LongLimit = 2, ImprovementLimit = 0.1;

    /// <summary>Most repairs, most of one kind, and most pairs.</summary>
    private const int MaxRepairs = 12, MaxPerKind = 4, MaxPairs = 6;

    private readonly List<FoundRepair> foundRepairs = [];

    /// <param name="EarlierChanges">Changes made already; the offer's comes on top.</param>
    /// <param name="Step">The least that is known to do.</param>
    private sealed record FoundRepair(ParametricChange Change, IReadOnlyList<WeekChange> EarlierChanges, int Step, IReadOnlyList<WeekChange> Changes,
        Schedule Schedule, Repair Repair, long[] GoalValues);

    public IReadOnlyList<Repair> Find()
    {
        var offers = new RepairCandidates(week, probe.Replan).For(conflict).ToArray();
        // What helps at the most is told at once; how little of it would do is asked when all have been tried.
        var (open, refused) = (offers.ToList(), new List<ParametricChange>());
        foreach (var patience in (double[])[0, DecisionLimit, LongLimit])
        {
            if (patience == LongLimit && foundRepairs.Any(one => !one.Change.IsLastResort)) break;
            foreach (var offer in open.ToArray())
            {
                var possible =
                    Try(offer, [], changed => patience == 0 ? probe.CheckQuickly(changed) : probe.Decide(changed, patience));
                if (possible == false) refused.Add(offer);
                if (possible is not null) open.Remove(offer);
            }
        }
        if (foundRepairs.Count == 0) FindPairs(refused);
        foreach (var patience in (double[])[QuickLimit, DecisionLimit])
            foreach (var one in Ranked().ToArray()) Reduce(one, patience);
        return Best();
    }

    /// <summary>
    /// A change that resolves the conflict leaves another; what resolves that one too is looked for among the changes that
    /// touch it.
    /// </summary>
    /// <param name="insufficient">Changes after which, proven, there still is no plan.</param>
    private void FindPairs(IReadOnlyList<ParametricChange> insufficient)
    {
        var open = new List<(ParametricChange First, ParametricChange Second)>();
        foreach (var first in insufficient)
        {
            if (probe.Budget.Spent || foundRepairs.Count >= MaxPairs) return;
            if (probe.CheckQuickly(first.Largest.Apply(conflict.RelaxedWeek)).Feasible == false) continue;
            var without = first.Largest.Apply(week);
            var other = new ConflictSearch(without, probe).Find();
            foreach (var second in new RepairCandidates(without, probe.Replan).For(other).OrderBy(offer => offer.IsLastResort))
            {
                if (foundRepairs.Count >= MaxPairs) return;
                var possible = Try(second, [first.Largest], probe.CheckQuickly);
                if (possible is null) open.Add((first, second));
                if (possible != true) continue;
                var least = SmallestStep(first, first.Steps - 1, changed => probe.SearchSchedule(second.Largest.Apply(changed), QuickLimit), week);
                if (least.Plan is not null) AddOrReplace(foundRepairs[^1], foundRepairs[^1] with { EarlierChanges = [first.ChangeAt(least.Step)] }, foundRepairs[^1].Step);
            }
        }
        // With no pair that a glance sees to do, those that it did not decide are looked at for longer, whole as they are.
        foreach (var (first, second) in open.TakeWhile(_ => foundRepairs.Count == 0))
            Try(second, [first.Largest], changed => probe.Decide(changed, DecisionLimit));
    }

    /// <summary>Whether there is a plan with the most that can be asked; where there is, that is a repair.</summary>
    private bool? Try(ParametricChange change, IReadOnlyList<WeekChange> earlierChanges, Func<Week, FeasibilityResult> decide)
    {
        if (probe.Budget.Spent) return null;
        var verdict = decide(change.Largest.Apply(WeekChange.Apply(week, earlierChanges)));
        return verdict.Schedule is not { } plan ? verdict.Feasible
            : AddOrReplace(null, new FoundRepair(change, earlierChanges, change.Steps - 1, [], plan, null!, []), change.Steps - 1) ? true : null;
    }

    /// <summary>The same, with less of it where less does.</summary>
    private void Reduce(FoundRepair repair, double limit)
    {
        var least = SmallestStep(repair.Change, repair.Step, changed =>
            limit > QuickLimit ? probe.Decide(changed, limit) : probe.SearchSchedule(changed, limit),
            WeekChange.Apply(week, repair.EarlierChanges));
        if (least.Plan is { } plan) AddOrReplace(repair, repair with { Schedule = plan }, least.Step);
    }

    /// <summary>The least step with which there is a plan, by halving, with that plan; the one given is known to do.</summary>
    private (int Step, Schedule? Plan) SmallestStep(ParametricChange change, int knownStep, Func<Week, FeasibilityResult> decide, Week baseWeek)
    {
        var (low, high, plan) = (0, knownStep, (Schedule?)null);
        while (low < high && !probe.Budget.Spent)
        {
            var middle = (low + high) / 2;
            if (decide(change.ChangeAt(middle).Apply(baseWeek)).Schedule is not { } there) low = middle + 1;
            else (high, plan) = (middle, there);
        }
        return (high, plan);
    }

    /// <summary>Proven, and bettered a little so that its goals say something; in the place of what it lessens.</summary>
    private bool AddOrReplace(FoundRepair? replaced, FoundRepair repair, int step)
    {
        WeekChange[] changes = [.. repair.EarlierChanges, repair.Change.ChangeAt(step)];
        var problem = Problem.Of(WeekChange.Apply(week, changes), probe.Replan);
        var incumbent = new Incumbent(problem);
        incumbent.Offer(repair.Schedule);
        var part = probe.Budget.CreateChild(ImprovementLimit);
        new HeuristicSearch(problem, incumbent, part).Improve();
        probe.Budget.Charge(part.Used);
        if (incumbent is not { Values: { } values, Best: { } plan }) return false;
        if (replaced is not null) foundRepairs.Remove(replaced);
        foundRepairs.Add(repair with
        {
            Step = step, Changes = changes, Schedule = plan, GoalValues = values,
            Repair = new Repair(changes,
                [.. problem.Goals.Select((goal, index) => new GoalValue(goal.Goal, values[index], null))],
                WeekPhrases.Truncated(string.Join(' ', changes.Select((change, index) =>
                    change.Sentence(WeekChange.Apply(week, changes.Take(index))))))),
        });
        onProgress(Best());
        return true;
    }

    private IReadOnlyList<Repair> Best() => [.. Ranked().Select(one => one.Repair)];

    /// <summary>
    /// In the order of the goals; what moves the launch, and then what leaves a display out, comes last. Of one kind only so
    /// many.
    /// </summary>
    private IEnumerable<FoundRepair> Ranked() => foundRepairs.DistinctBy(ChangeSetKey)
        .GroupBy(one => string.Join('+', one.Changes.Select(change => change.Kind)))
        .SelectMany(alike => alike.OrderBy(one => one.GoalValues, LexicographicOrder).Take(MaxPerKind))
        .OrderBy(one => one.Changes.Max(change => change is LeaveOut ? 2 : change is LaunchMoved ? 1 : 0))
        .ThenBy(one => one.GoalValues, LexicographicOrder)
        .Take(MaxRepairs);

    /// <summary>One and then the other is the same as the other and then the one.</summary>
    private static string ChangeSetKey(FoundRepair one) =>
        string.Join('\n', one.Changes.Select(change => change.ToString()).Order(StringComparer.Ordinal));

    private static Comparer<long[]> LexicographicOrder { get; } =
        Comparer<long[]>.Create((one, other) => one.AsSpan().SequenceCompareTo(other));
}
