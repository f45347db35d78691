using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Search;

/// <summary>
/// The best checked plan so far and what is proven of it. Every part of the search offers its plans and bounds here; it is
/// the only door out, and nothing passes it unchecked. Safe to use from several threads.
/// </summary>
/// <param name="problem">What is planned.</param>
/// <param name="onChange">Told of each better plan, and of the best again when a bound has risen; one call at a time.</param>
internal sealed class Incumbent(Problem problem, Action<Schedule, long[]>? onChange = null)
{
    private readonly Lock gate = new();
    private readonly IGoal[] goals = [.. problem.Goals.Select(choice => AllGoals.Of(choice.Goal))];
    private readonly List<(long[] Caps, long Bound)> provenBounds = [];
    private readonly List<(Schedule Schedule, long[] Values)> nondominated = [];
    private (Schedule Schedule, long[] Values)? best;

    public Schedule? Best { get { lock (gate) return best?.Schedule; } }

    /// <summary>Values of <see cref="Best"/>, in the order of the goals asked.</summary>
    public long[]? Values { get { lock (gate) return best?.Values[..goals.Length]; } }

    /// <summary>Every goal's value is its bound (within its tolerance): there is nothing better to find.</summary>
    public bool GapClosed
    {
        get
        {
            lock (gate)
                return best is { } plan
                    && Enumerable.Range(0, goals.Length).All(goal => plan.Values[goal] <= Allowed(goal, BoundOf(goal)));
        }
    }

    /// <summary>
    /// Takes a plan if it breaks no rule and is better, in order and within tolerances, than the best so far; in a re-plan also
    /// where it is as good and leaves more of the published work as it was.
    /// </summary>
    public bool Offer(Schedule schedule)
    {
        long[] values = [.. goals.Select(goal => goal.Measure(problem, schedule)), ReshuffledWork.Measure(problem, schedule)];
        lock (gate)
        {
            if (nondominated.Any(plan => IsAtLeastAsGood(plan.Values, values)) || Checker.Check(problem, schedule).Count > 0) return false;
            nondominated.RemoveAll(plan => IsAtLeastAsGood(values, plan.Values));
            nondominated.Add((schedule, values));
            var winner = SelectBest();
            if (best is { } before && ReferenceEquals(before.Schedule, winner.Schedule)) return false;
            best = winner;
            onChange?.Invoke(winner.Schedule, winner.Values[..goals.Length]);
            return true;
        }
    }

    /// <summary>
    /// Most that each goal above <paramref name="goal"/> may be while it is minimised: its value, or its best with the
    /// tolerance added. Empty for the first goal. Only where there is a plan.
    /// </summary>
    public long[] CapsFor(int goal)
    {
        lock (gate) return Caps(goal);
    }

    /// <summary>
    /// Says that no plan whose goals above are within <paramref name="caps"/> has a smaller value of the goal of that index.
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

    /// <summary>By goal: the best bound proven, 0 where nothing is.</summary>
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

    private long[] Caps(int goal) => FilterLexicographically(nondominated.Select(plan => plan.Values), problem.Goals).Most[..goal];

    private long Allowed(int goal, long value) => problem.Goals[goal].LargestAllowed(value);

    /// <summary>Of the plans within tolerance of every goal's best, the one with the smallest values, in order.</summary>
    private (Schedule Schedule, long[] Values) SelectBest()
    {
        var winner = FilterLexicographically(nondominated.Select(plan => plan.Values), problem.Goals).Left
            .Min(Comparer<long[]>.Create((one, other) => one.AsSpan().SequenceCompareTo(other)));
        return nondominated.Find(plan => ReferenceEquals(plan.Values, winner));
    }

    /// <summary>
    /// Goal by goal: the most that it may be, the best among the plans still in with the tolerance added; what is above goes
    /// out.
    /// </summary>
    internal static (long[] Most, List<long[]> Left) FilterLexicographically(IEnumerable<long[]> plans, IReadOnlyList<GoalChoice> goals)
    {
        var (most, left) = (new long[goals.Count], plans.ToList());
        for (var goal = 0; goal < goals.Count; goal++)
        {
            most[goal] = goals[goal].LargestAllowed(left.Min(values => values[goal]));
            left.RemoveAll(values => values[goal] > most[goal]);
        }
        return (most, left);
    }

    /// <summary>Without tolerances the order decides; with them a plan is only surely no worse where every goal is.</summary>
    private bool IsAtLeastAsGood(long[] one, long[] other) => problem.Goals.All(choice => choice.TolerancePercent == 0)
        ? one.AsSpan().SequenceCompareTo(other) <= 0
        : one.Zip(other).All(pair => pair.First <= pair.Second);
}
