using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Repairs;

/// <summary>
/// Searches changes that make an infeasible week feasible. Each change is reduced to the smallest step that is found to suffice.
/// A checked plan proves each repair, and its goals show what the repair costs. If no single change suffices, several changes of
/// one kind are tried together, then pairs.
/// </summary>
/// <param name="week">A week that is proven infeasible.</param>
/// <param name="conflict">Its conflict.</param>
/// <param name="probe">Decides whether changed weeks are feasible, within its budget.</param>
/// <param name="onProgress">Called with the repairs so far, best first, whenever there is a new one.</param>
internal sealed class RepairSearch(Week week, Conflict conflict, FeasibilityProbe probe, Action<IReadOnlyList<Repair>> onProgress)
{
    /// <summary>
    /// Limits in seconds or effort units: of a quick search, of a decision, of a long decision, and of improving the plan of a
    /// repair so that its goals are meaningful.
    /// </summary>
    private const double QuickLimit = 0.1, DecisionLimit = 0.5, LongLimit = 2, ImprovementLimit = 0.1;

    /// <summary>The most repairs in total, of one kind, and of pairs.</summary>
    private const int MaxRepairs = 12, MaxPerKind = 4, MaxPairs = 6;

    private readonly List<FoundRepair> foundRepairs = [];

    /// <param name="Change">The change whose step is reduced.</param>
    /// <param name="EarlierChanges">Changes that are made before it; empty if one change suffices.</param>
    /// <param name="Step">The smallest step that is known to suffice.</param>
    /// <param name="Changes">All changes, with the step chosen.</param>
    /// <param name="Schedule">The plan that proves the repair.</param>
    /// <param name="Repair">The repair as it is reported.</param>
    /// <param name="GoalValues">The goals of the plan, most important first.</param>
    private sealed record FoundRepair(ParametricChange Change, IReadOnlyList<WeekChange> EarlierChanges, int Step,
        IReadOnlyList<WeekChange> Changes, Schedule Schedule, Repair Repair, long[] GoalValues);

    private int PairsFound => foundRepairs.Count(repair => repair.EarlierChanges.Count > 0);

    public IReadOnlyList<Repair> Find()
    {
        var candidates = new RepairCandidates(week, probe.Replan).For(conflict).ToArray();
        // First find the changes whose largest step suffices, and report them; then reduce their steps.
        var (undecided, insufficient) = (candidates.ToList(), new List<ParametricChange>());
        foreach (var limit in (double[])[0, DecisionLimit, LongLimit])
        {
            if (limit == LongLimit && foundRepairs.Any(repair => !repair.Change.IsLastResort)) break;
            foreach (var candidate in undecided.ToArray())
            {
                if (AsksForTooMuch(candidate.Largest)) continue;
                var sufficient =
                    Try(candidate, [], changed => limit == 0 ? probe.CheckQuickly(changed) : probe.Decide(changed, limit));
                if (sufficient == false) insufficient.Add(candidate);
                if (sufficient is not null) undecided.Remove(candidate);
            }
        }
        if (foundRepairs.All(repair => repair.Change.IsLastResort))
        {
            FindTogether();
            FindPairs(insufficient);
        }
        foreach (var limit in (double[])[QuickLimit, DecisionLimit])
            foreach (var repair in Ranked().ToArray()) Reduce(repair, limit);
        return Best();
    }

    /// <summary>
    /// Tries several changes of one kind together, for weeks that lack the same thing several times: no keyholder in three
    /// nights. One solve shows whether all of them suffice. Then each that is not needed is taken back.
    /// </summary>
    private void FindTogether()
    {
        foreach (var together in new RepairCandidates(week, probe.Replan).Together(conflict))
        {
            if (probe.Budget.Spent) return;
            var chosen = together.Select(change => (Change: change, Step: change.Steps - 1)).ToList();
            if (probe.Decide(Changed(chosen), DecisionLimit).Schedule is not { } plan) continue;
            for (var index = chosen.Count - 1; index >= 0 && chosen.Count > 1; index--)
            {
                var fewer = chosen.Where((_, position) => position != index).ToList();
                if (probe.SearchSchedule(Changed(fewer), QuickLimit).Schedule is { } found) (chosen, plan) = (fewer, found);
            }
            for (var index = 0; index < chosen.Count; index++)
            {
                var (change, step) = chosen[index];
                var others = Changed([.. chosen.Where((_, position) => position != index)]);
                var smallest = SmallestStep(change, step, probe.CheckQuickly, others);
                if (smallest.Plan is { } found) (chosen[index], plan) = ((change, smallest.Step), found);
            }
            var (last, lastStep) = chosen[^1];
            WeekChange[] earlier = [.. chosen.Take(chosen.Count - 1).Select(one => one.Change.ChangeAt(one.Step))];
            AddOrReplace(null, new FoundRepair(last, earlier, lastStep, [], plan, null!, []), lastStep);
        }

        Week Changed(IEnumerable<(ParametricChange Change, int Step)> chosen) =>
            WeekChange.Apply(week, chosen.Select(one => one.Change.ChangeAt(one.Step)));
    }

    /// <summary>
    /// Tries pairs. A change may resolve this conflict but leave the week with another one. The second change is sought among
    /// those that relax the other conflict.
    /// </summary>
    /// <param name="insufficient">Changes with which the week is still proven infeasible.</param>
    private void FindPairs(IReadOnlyList<ParametricChange> insufficient)
    {
        var undecided = new List<(ParametricChange First, ParametricChange Second)>();
        foreach (var first in insufficient)
        {
            if (probe.Budget.Spent || PairsFound >= MaxPairs) return;
            if (probe.CheckQuickly(first.Largest.Apply(conflict.RelaxedWeek)).Feasible == false) continue;
            var changedWeek = first.Largest.Apply(week);
            var other = new ConflictSearch(changedWeek, probe).Find();
            foreach (var second in new RepairCandidates(changedWeek, probe.Replan).For(other)
                .OrderBy(candidate => candidate.IsLastResort))
            {
                if (PairsFound >= MaxPairs) return;
                // Leaving a display out is enough by itself, so nobody has to make another change too.
                if (second.IsLastResort && foundRepairs.Any(repair => repair.EarlierChanges.Count == 0)) continue;
                var sufficient = Try(second, [first.Largest], probe.CheckQuickly);
                if (sufficient is null) undecided.Add((first, second));
                if (sufficient != true) continue;
                var pair = foundRepairs[^1];
                var smallest = SmallestStep(first, first.Steps - 1,
                    changed => probe.SearchSchedule(second.ChangeAt(pair.Step).Apply(changed), QuickLimit), week);
                if (smallest.Plan is { } plan)
                    AddOrReplace(pair,
                        pair with { EarlierChanges = [first.ChangeAt(smallest.Step)], Schedule = plan }, pair.Step);
            }
        }
        // If no pair was found quickly, the undecided ones get more time until one is found.
        foreach (var (first, second) in undecided.TakeWhile(_ => PairsFound == 0))
            Try(second, [first.Largest], changed => probe.Decide(changed, DecisionLimit));
    }

    /// <summary>Whether the largest step suffices; null: not known. If it does, it is added as a repair.</summary>
    private bool? Try(ParametricChange change, IReadOnlyList<WeekChange> earlierChanges, Func<Week, FeasibilityResult> decide)
    {
        if (probe.Budget.Spent) return null;
        var changed = WeekChange.Apply(week, earlierChanges);
        var verdict = decide(change.Largest.Apply(changed));
        if (verdict.Schedule is not { } plan) return verdict.Feasible;
        // The time may run out before the steps are reduced thoroughly, and the largest is more than anybody would do.
        var smallest = SmallestStep(change, change.Steps - 1, probe.CheckQuickly, changed);
        return AddOrReplace(null,
            new FoundRepair(change, earlierChanges, smallest.Step, [], smallest.Plan ?? plan, null!, []), smallest.Step)
            ? true : null;
    }

    /// <summary>Replaces a repair by one with a smaller step, if that suffices.</summary>
    private void Reduce(FoundRepair repair, double limit)
    {
        var smallest = SmallestStep(repair.Change, repair.Step, changed =>
            limit > QuickLimit ? probe.Decide(changed, limit) : probe.SearchSchedule(changed, limit),
            WeekChange.Apply(week, repair.EarlierChanges));
        if (smallest.Plan is { } plan) AddOrReplace(repair, repair with { Schedule = plan }, smallest.Step);
    }

    /// <summary>Binary search for the smallest step that is found feasible, and its plan. The known step is feasible.</summary>
    private (int Step, Schedule? Plan) SmallestStep(
        ParametricChange change, int knownStep, Func<Week, FeasibilityResult> decide, Week baseWeek)
    {
        var (low, high, plan) = (0, knownStep, (Schedule?)null);
        while (low < high && !probe.Budget.Spent)
        {
            var middle = (low + high) / 2;
            if (decide(change.ChangeAt(middle).Apply(baseWeek)).Schedule is not { } found) low = middle + 1;
            else (high, plan) = (middle, found);
        }
        return (high, plan);
    }

    /// <summary>
    /// Adds a repair after checking and briefly improving its plan. It takes the place of the replaced repair, if any.
    /// </summary>
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
                WeekPhrases.Truncated(SentenceOf(changes))),
        });
        onProgress(Best());
        return true;
    }

    /// <summary>A sentence for each change. The same person in several nights is asked for in one.</summary>
    private string SentenceOf(WeekChange[] changes)
    {
        string[] nights = [.. changes.Select(NightOf).OfType<string>().Distinct()];
        if (changes.Length == 1 || nights.Length < changes.Length || changes.Select(AnyNight).Distinct().Count() > 1)
            return string.Join(' ', changes.Select((change, index) =>
                change.Sentence(WeekChange.Apply(week, changes.Take(index)))));
        var inOrder = week.Nights.Where(night => nights.Contains(night.Id)).Select(night => WeekPhrases.Night(week, night.Id));
        return changes[0].Sentence(week).Replace(WeekPhrases.Night(week, nights[0]),
            $"each of {nights.Length} nights: {WeekPhrases.List([.. inOrder])}", StringComparison.Ordinal);
    }

    /// <summary>The night in which the change adds a person; null for other changes.</summary>
    private static string? NightOf(WeekChange change) =>
        change is ExtraKeyholder holder ? holder.Night : (change as ExtraPerson)?.Night;

    private static WeekChange AnyNight(WeekChange change) => change switch
    {
        ExtraKeyholder holder => holder with { Night = "" },
        ExtraPerson person => person with { Night = "" },
        _ => change,
    };

    private IReadOnlyList<Repair> Best() => [.. Ranked().Select(found => found.Repair with
    {
        Sentence = WeekPhrases.Truncated(found.Repair.Sentence + OtherNights(found)),
    })];

    /// <summary>The other nights in which one more keyholder suffices too. They share one line.</summary>
    private string OtherNights(FoundRepair found)
    {
        if (found.Changes is not [ExtraKeyholder]) return "";
        string[] others = [.. week.Nights.Where(night => foundRepairs.Any(other => other != found
            && other.Changes is [ExtraKeyholder extra] && extra.Night == night.Id))
                .Select(night => WeekPhrases.Night(week, night.Id))];
        return others.Length == 0 ? "" : $" One in {WeekPhrases.List(others, "or")} would do instead.";
    }

    /// <summary>
    /// Orders repairs by their goals. Those with a price that the goals do not show come later: the launch moves, or something
    /// is missing. Those that leave out a display come last. The number of repairs of one kind is limited.
    /// </summary>
    private IEnumerable<FoundRepair> Ranked() => foundRepairs.DistinctBy(ChangeSetKey)
        .Where(repair => repair.Changes.Count > 1 || !AsksForTooMuch(repair.Changes[0]))
        .GroupBy(repair => string.Join('+', repair.Changes.Select(change => change.Kind)))
        .SelectMany(alike => alike.OrderBy(repair => repair.GoalValues, LexicographicOrder)
            .Take(alike.First().Changes.All(change => change is ExtraKeyholder) ? 1 : MaxPerKind))
        .OrderBy(repair => repair.Changes.Max(change =>
            change is LeaveOut ? 2 : change is LaunchTimeMoved or MissingPiecesSettled ? 1 : 0))
        .ThenBy(repair => repair.GoalValues, LexicographicOrder)
        .Take(MaxRepairs);

    /// <summary>True for somebody with keys and a skill where the keys alone suffice.</summary>
    private bool AsksForTooMuch(WeekChange change) => change is ExtraPerson { Keyholder: true }
        && foundRepairs.Any(repair => repair.Changes is [ExtraKeyholder]);

    /// <summary>The same key for the same changes in any order.</summary>
    private static string ChangeSetKey(FoundRepair repair) =>
        string.Join('\n', repair.Changes.Select(change => change.ToString()).Order(StringComparer.Ordinal));

    private static Comparer<long[]> LexicographicOrder { get; } =
        Comparer<long[]>.Create((first, second) => first.AsSpan().SequenceCompareTo(second));
}
