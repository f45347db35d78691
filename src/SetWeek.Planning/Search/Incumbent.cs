using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Search;

/// <summary>
/// The best plan so far and the bounds proven so far. Every part of the search offers its plans and bounds here. A plan is
/// checked against every rule before it is accepted. Safe to use from several threads.
/// </summary>
/// <param name="problem">The problem of the plans.</param>
/// <param name="onChange">
/// Called with each better plan, and with the best plan again when a bound has risen. The second argument has the goals' values.
/// One call at a time.
/// </param>
internal sealed class Incumbent(Problem problem, Action<Schedule, long[]>? onChange = null)
{
    private readonly Lock gate = new();
    private readonly IGoal[] goals = [.. problem.Goals.Select(choice => AllGoals.Of(choice.Goal))];
    private readonly IGoal tieBreak = AllGoals.Of(GoalId.Shuffled);
    private readonly List<(long[] Caps, long Bound)> provenBounds = [];
    private readonly List<(Schedule Schedule, long[] Values)> nondominated = [];
    private (Schedule Schedule, long[] Values)? best;
    private (IReadOnlyList<int> Missing, int Work)? closestAttempt;

    /// <summary>The best plan so far; null while there is none.</summary>
    public Schedule? Best { get { lock (gate) return best?.Schedule; } }

    /// <summary>Values of <see cref="Best"/>, in the order of the problem's goals; null while there is no plan.</summary>
    public long[]? Values { get { lock (gate) return best?.Values[..goals.Length]; } }

    /// <summary>Every goal's value is at its bound, within its tolerance. The best plan is proven optimal.</summary>
    public bool GapClosed
    {
        get
        {
            lock (gate)
                return best is { } plan
                    && Enumerable.Range(0, goals.Length).All(goal => plan.Values[goal] <= Allowed(goal, BoundOf(goal)));
        }
    }

    /// <summary>The stints missing in the attempt with the least missing work; empty while none is known.</summary>
    public IReadOnlyList<int> ClosestAttempt { get { lock (gate) return closestAttempt?.Missing ?? []; } }

    /// <summary>Records an attempt at a plan that lacks stints, in case that no plan is found.</summary>
    /// <param name="missing">Indices of the stints that are missing.</param>
    /// <param name="work">Their work, in slots x people.</param>
    public void RecordAttempt(IReadOnlyList<int> missing, int work)
    {
        lock (gate)
            if (missing.Count > 0 && best is null && !(closestAttempt?.Work <= work)) closestAttempt = (missing, work);
    }

    /// <summary>
    /// Accepts a plan that breaks no rule and improves on the best so far. Goals are compared in order, within their tolerances.
    /// In a re-plan, of plans with equal values the one with fewer shuffled stints is better, also where that is no goal. True
    /// where the plan is the new best.
    /// </summary>
    /// <param name="schedule">The plan.</param>
    /// <param name="held">Scenarios that it holds in, where the caller has simulated it; null: not known.</param>
    public bool Offer(Schedule schedule, int? held = null)
    {
        // The goal hold takes longest, and can be measured on plans of the week alone: it counts as 0 until the plan is checked.
        var hold = problem.PositionOf(GoalId.Hold);
        long[] values = [.. goals.Append(tieBreak).Select((goal, at) => at != hold ? goal.Measure(problem, schedule)
            : held is { } known ? HoldGoal.Shortfall(problem.Week.Hold, known) : 0)];
        lock (gate)
        {
            if (IsDominated(values) || Checker.Check(problem, schedule).Count > 0) return false;
            if (hold >= 0 && held is null)
            {
                values[hold] = goals[hold].Measure(problem, schedule);
                if (IsDominated(values)) return false;
            }
            nondominated.RemoveAll(plan => IsAtLeastAsGood(values, plan.Values));
            nondominated.Add((schedule, values));
            var winner = SelectBest();
            if (best is { } before && ReferenceEquals(before.Schedule, winner.Schedule)) return false;
            best = winner;
            onChange?.Invoke(winner.Schedule, winner.Values[..goals.Length]);
            return true;
        }
    }

    private bool IsDominated(long[] values) => nondominated.Any(plan => IsAtLeastAsGood(plan.Values, values));

    /// <summary>
    /// Caps on the goals above <paramref name="goal"/> while that goal is minimised: the smallest value found for each, plus its
    /// tolerance. Empty for the first goal. Needs a plan.
    /// </summary>
    public long[] CapsFor(int goal)
    {
        lock (gate) return Caps(goal);
    }

    /// <summary>
    /// Records a proven lower bound of the goal whose index is the length of <paramref name="caps"/>. It holds for every plan
    /// whose goals above are at most their caps.
    /// </summary>
    public void RecordBound(ReadOnlySpan<long> caps, long bound)
    {
        lock (gate)
        {
            var before = BoundOf(caps.Length);
            provenBounds.Add((caps.ToArray(), bound));
            if (best is { } plan && BoundOf(caps.Length) > before) onChange?.Invoke(plan.Schedule, plan.Values[..goals.Length]);
        }
    }

    /// <summary>By goal: the largest bound that holds under the current caps; 0 where none is proven.</summary>
    public long[] Bounds()
    {
        lock (gate) return [.. Enumerable.Range(0, goals.Length).Select(BoundOf)];
    }

    private long BoundOf(int goal)
    {
        var caps = best is null ? null : Caps(goal);
        return provenBounds
            .Where(proof => proof.Caps.Length == goal
                && (goal == 0 || (caps is not null && proof.Caps.Zip(caps).All(pair => pair.First >= pair.Second))))
            .Select(proof => proof.Bound).DefaultIfEmpty(0).Max();
    }

    private long[] Caps(int goal) =>
        FilterLexicographically(nondominated.Select(plan => plan.Values), problem.Goals).Caps[..goal];

    private long Allowed(int goal, long value) => problem.Goals[goal].LargestAllowed(value);

    /// <summary>The lexicographically smallest of the plans that are within tolerance of every goal's best.</summary>
    private (Schedule Schedule, long[] Values) SelectBest()
    {
        var winner = FilterLexicographically(nondominated.Select(plan => plan.Values), problem.Goals).Remaining
            .Min(Comparer<long[]>.Create((left, right) => left.AsSpan().SequenceCompareTo(right)));
        return nondominated.Find(plan => ReferenceEquals(plan.Values, winner));
    }

    /// <summary>
    /// Goes through the goals in order. Each goal's cap is the best value among the plans that remain, plus its tolerance. Plans
    /// above the cap are removed before the next goal.
    /// </summary>
    internal static (long[] Caps, List<long[]> Remaining) FilterLexicographically(
        IEnumerable<long[]> plans, IReadOnlyList<GoalChoice> goals)
    {
        var (caps, remaining) = (new long[goals.Count], plans.ToList());
        for (var goal = 0; goal < goals.Count; goal++)
        {
            caps[goal] = goals[goal].LargestAllowed(remaining.Min(values => values[goal]));
            remaining.RemoveAll(values => values[goal] > caps[goal]);
        }
        return (caps, remaining);
    }

    /// <summary>
    /// Without tolerances plans are compared lexicographically. With tolerances that order may change with later plans, so a
    /// plan is at least as good only where it is in every value.
    /// </summary>
    private bool IsAtLeastAsGood(long[] values, long[] others) => problem.Goals.All(choice => choice.TolerancePercent == 0)
        ? values.AsSpan().SequenceCompareTo(others) <= 0
        : values.Zip(others).All(pair => pair.First <= pair.Second);
}
