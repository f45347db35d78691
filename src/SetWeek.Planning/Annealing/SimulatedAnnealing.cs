using SetWeek.Model.Durations;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Improves a complete plan in the weighted goals by <see cref="RuinAndRecreate"/>, and keeps the lexicographically best plan.
/// </summary>
internal sealed class SimulatedAnnealing : IRuinAndRecreateSearch
{
    private readonly CompactProblem compact;
    private readonly Ruin ruin;
    private readonly SerialInsertion serialInsertion;
    private readonly WeightedObjective objective;
    private readonly SplitMix64 random;
    private readonly AnnealingParameters parameters;
    private readonly RuinAndRecreate loop;
    private readonly long[] values;
    private int goal = -1;

    public SimulatedAnnealing(CompactProblem compact, Ruin ruin, ActivityInsertion insertion, Rostering rostering,
        SerialInsertion serialInsertion, WeightedObjective objective, SplitMix64 random, AnnealingParameters parameters)
    {
        (this.compact, this.ruin, this.serialInsertion) = (compact, ruin, serialInsertion);
        (this.objective, this.random, this.parameters) = (objective, random, parameters);
        loop = new RuinAndRecreate(compact, insertion, rostering, serialInsertion, random, parameters.Step);
        (values, BestValues) = (new long[objective.Count], new long[objective.Count]);
        Best = new PartialSchedule(compact);
    }

    public PartialSchedule Best { get; }

    /// <summary>Values of <see cref="Best"/>, in the order of the goals.</summary>
    public long[] BestValues { get; }

    /// <summary>True: <see cref="Best"/> is a complete plan.</summary>
    public bool HasPlan { get; private set; }

    public long Steps { get; private set; }

    /// <summary>Continues from a complete plan.</summary>
    public void StartFrom(PartialSchedule schedule)
    {
        loop.Current.CopyFrom(schedule);
        loop.CurrentCost = objective.Evaluate(schedule, values);
        if (IsBetter) SetBest(schedule);
    }

    /// <summary>Continues from a complete plan if it is better than the best so far; true if it is.</summary>
    public bool TryStartFrom(PartialSchedule schedule)
    {
        objective.Evaluate(schedule, values);
        if (!IsBetter) return false;
        StartFrom(schedule);
        return true;
    }

    /// <summary>One step; true if it found a better plan.</summary>
    /// <param name="temperature">In hours of mean pay, or in units of the goal if one is given; 0 accepts no worse plan.</param>
    /// <param name="goal">Index of the goal that is improved; -1: all of them, by their weighted sum.</param>
    public bool Step(double temperature, int goal = -1)
    {
        Steps++;
        this.goal = goal;
        var unit = goal < 0 ? Math.Max(1, compact.MeanRate) : objective.WeightOfStep(goal);
        if (!loop.Step(this, temperature * unit) || !IsBetter) return false;
        SetBest(loop.Current);
        return true;
    }

    /// <summary>
    /// First goal before cost, from an index on, that moves in steps and is above its bound; -1: none. The value of displays left
    /// out has a search of its own.
    /// </summary>
    public int OpenGoalBeforeCost(int from, long[] bounds)
    {
        var goals = compact.Problem.Goals;
        for (var goal = from; goal < goals.Count && goals[goal].Goal != GoalId.Cost; goal++)
            if (goals[goal].Goal is GoalId.Bare or GoalId.Changes or GoalId.Shuffled or GoalId.Shifts or GoalId.Nights
                    or GoalId.Handovers or GoalId.Moves && BestValues[goal] > bounds[goal])
                return goal;
        return -1;
    }

    /// <summary>Continues from the best plan.</summary>
    public void ReturnToBest()
    {
        loop.Current.CopyFrom(Best);
        loop.CurrentCost = objective.Evaluate(Best, BestValues);
    }

    /// <summary>
    /// Corrects the estimate of the goal hold by what was measured on the best plan, and evaluates the best and the current plan
    /// anew.
    /// </summary>
    /// <param name="held">Scenarios that the best plan holds in.</param>
    public void CorrectHold(int held)
    {
        var hold = objective.Hold!;
        hold.Correction = 0;
        hold.Of(Best);
        hold.Correction = held - hold.Held;
        objective.Evaluate(Best, BestValues);
        loop.CurrentCost = objective.Evaluate(loop.Current, values);
    }

    /// <summary>
    /// Leaves the goal hold out of all values, or counts it again, and evaluates the best and the current plan anew.
    /// </summary>
    public void IgnoreHold(bool isIgnored)
    {
        objective.IgnoresHold = isIgnored;
        objective.Evaluate(Best, BestValues);
        loop.CurrentCost = objective.Evaluate(loop.Current, values);
    }

    /// <summary>True if the best plan falls short of the chance to hold that is asked for.</summary>
    public bool MissesChance => objective.MissesChance(BestValues);

    /// <summary>Changes the weight of the goal hold, and evaluates the current plan anew.</summary>
    /// <param name="share">1: its full weight.</param>
    public void WeighHold(double share)
    {
        objective.HoldWeight = share;
        loop.CurrentCost = objective.Evaluate(loop.Current, values);
    }

    /// <summary>
    /// Replaces a best plan that is not what its estimate promised. The current plan stays if its weighted sum is lower: the best
    /// plan may have its chance to hold at a cost that annealing is about to save.
    /// </summary>
    public void ReplaceBest(PartialSchedule schedule)
    {
        var cost = objective.Evaluate(schedule, values);
        if (!HasPlan || cost < loop.CurrentCost)
        {
            loop.Current.CopyFrom(schedule);
            loop.CurrentCost = cost;
        }
        SetBest(schedule);
    }

    void IRuinAndRecreateSearch.Remove(PartialSchedule trial)
    {
        var count = 1 + random.NextBelow(parameters.MaxRemoved);
        if (goal >= 0 && compact.Problem.Goals[goal].Goal is GoalId.Changes or GoalId.Shuffled
            && random.NextBoolean(parameters.Displaced))
            ruin.RemoveDisplaced(trial, count, shuffled: compact.Problem.Goals[goal].Goal == GoalId.Shuffled);
        else ruin.Remove(trial, count);
    }

    bool IRuinAndRecreateSearch.ChangeChoices(PartialSchedule trial) =>
        random.NextBoolean(parameters.BestChoice) && TryBestChoice(trial);

    double? IRuinAndRecreateSearch.CostWithin(PartialSchedule trial, double limit) =>
        objective.EvaluateWithin(trial, values, limit, BestValues);

    /// <summary>Are the values evaluated last lexicographically better than the best?</summary>
    private bool IsBetter => !HasPlan || values.AsSpan().SequenceCompareTo(BestValues) < 0;

    /// <summary>
    /// Switches a random display to its most valuable choice; false if it has that choice already. Another display may then
    /// have to take its next choice for lack of room.
    /// </summary>
    private bool TryBestChoice(PartialSchedule trial)
    {
        var decision = random.NextBelow(compact.DisplayDecisions.Length);
        var choice = compact.DisplayDecisions[decision].OpenChoices[0];
        var leftOutValues = compact.DisplayDecisions[decision].LeftOutValues;
        if (leftOutValues[choice] >= leftOutValues[trial.Choice[decision]]) return false;
        serialInsertion.SwitchChoice(trial, decision, choice);
        return true;
    }

    private void SetBest(PartialSchedule schedule)
    {
        HasPlan = true;
        Best.CopyFrom(schedule);
        values.CopyTo(BestValues, 0);
    }
}
