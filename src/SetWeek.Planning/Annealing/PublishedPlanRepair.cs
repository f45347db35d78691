using SetWeek.Model.Durations;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Repairs the published plan with few changes by <see cref="RuinAndRecreate"/>. At first, the work
/// affected by the new facts is left out. The search runs in rounds, and the temperature falls in each round. A round starts
/// from the kept part of the published plan or from the best repair so far. Displays keep their
/// published choices unless there is no room for them.
/// </summary>
internal sealed class PublishedPlanRepair(CompactProblem compact, Ruin ruin, ActivityInsertion insertion, Rostering rostering,
    SerialInsertion serialInsertion, WeightedObjective objective, SplitMix64 random, RepairParameters parameters)
    : IRuinAndRecreateSearch
{
    private readonly RuinAndRecreate loop = new(compact, insertion, rostering, serialInsertion, random, parameters.Step);
    private readonly PartialSchedule keptMost = new(compact), keptLess = new(compact), keptShifts = new(compact);

    /// <summary>
    /// Published shifts that need not stay, by person and night: in the current schedule, and in the best repair.
    /// </summary>
    private readonly bool[] currentReleased = new bool[compact.People * compact.Nights],
        bestReleased = new bool[compact.People * compact.Nights];

    private List<int> missing = [];
    private double bestCost = double.MaxValue, missingWeight = parameters.MissingWeight, changeWeight = 1;
    private int steps, missingWork;

    /// <summary>The best complete plan so far; meaningful if <see cref="IsFound"/>.</summary>
    public PartialSchedule Best { get; } = new(compact);

    public bool IsFound => bestCost < double.MaxValue;

    /// <summary>Starts from what can be kept of the published plan; the rest is missing.</summary>
    /// <param name="kept">As much of the published plan as still fits.</param>
    /// <param name="withoutSuccessors">The same without the successors of missing work, which leaves more room.</param>
    public void StartFrom(PartialSchedule kept, PartialSchedule withoutSuccessors)
    {
        keptMost.CopyFrom(kept);
        keptLess.CopyFrom(withoutSuccessors);
        ruin.RemoveWithoutCleanDown(keptMost);
        ruin.RemoveWithoutCleanDown(keptLess);
        keptShifts.CopyFrom(kept);
        for (var activity = 0; activity < compact.Activities.Length; activity++)
            if (keptShifts.Night[activity] >= 0 && !compact.Activities[activity].HasBegun) keptShifts.Remove(activity);
        loop.Current.CopyFrom(keptMost);
        EvaluateCurrent();
    }

    /// <summary>Takes a complete plan as the best repair if it is better.</summary>
    public void TakeIfBetter(PartialSchedule plan)
    {
        changeWeight = 1;
        if (CostOf(plan, 0) is var cost && cost >= bestCost) return;
        Best.CopyFrom(plan);
        bestCost = cost;
        Array.Clear(bestReleased);
    }

    /// <summary>One step; true if it found a better complete plan.</summary>
    public bool Step()
    {
        if (++steps % parameters.StepsPerRound == 0) StartRound();
        if (missing.Count > 0)
        {
            missingWeight = missingWeight < parameters.MaxMissingWeight
                ? missingWeight * parameters.MissingWeightGrowth : parameters.MissingWeight;
            loop.CurrentCost = CostOf(loop.Current, missingWork);
        }
        var share = steps % parameters.StepsPerRound / (double)parameters.StepsPerRound;
        if (!TryStep(GeometricCooling.At(parameters.InitialTemperature, parameters.FinalTemperature, share))) return false;
        EvaluateCurrent();
        if (missing.Count > 0) return false;
        changeWeight = 1;
        loop.CurrentCost = CostOf(loop.Current, 0);
        if (loop.CurrentCost >= bestCost) return false;
        Best.CopyFrom(loop.Current);
        bestCost = loop.CurrentCost;
        currentReleased.CopyTo(bestReleased, 0);
        return true;
    }

    void IRuinAndRecreateSearch.Remove(PartialSchedule trial)
    {
        if (random.NextBoolean(parameters.PersonNight)) ruin.RemovePersonNight(trial);
        else if (missing.Count > 0 && random.NextBoolean(parameters.Blockers))
            // Earlier stints are drawn more often, because their successors wait for them.
            ruin.RemoveBlockers(trial, missing[Math.Min(random.NextBelow(missing.Count), random.NextBelow(missing.Count))],
                random.NextBoolean(parameters.BlockersWithinWindow));
        else if (random.NextBoolean(parameters.Displaced))
            ruin.RemoveDisplaced(trial, 1 + random.NextBelow(parameters.MaxDisplaced));
        else ruin.Remove(trial, 1 + random.NextBelow(parameters.MaxRemoved));
    }

    bool IRuinAndRecreateSearch.ChangeChoices(PartialSchedule trial) => missing.Count > 0
        && random.NextBoolean(steps > parameters.StepsPerRound && !IsFound ? parameters.LateLeaveOut : parameters.LeaveOut);

    double? IRuinAndRecreateSearch.CostWithin(PartialSchedule trial, double limit) =>
        CostOf(trial, serialInsertion.MissingWork) is var cost && cost > limit ? null : cost;

    /// <summary>One step with the released shifts of the current schedule; true if it was accepted.</summary>
    private bool TryStep(double temperature)
    {
        var released = compact.Published.ReleasedShifts;
        currentReleased.CopyTo(released, 0);
        var isAccepted = loop.Step(this, temperature);
        if (isAccepted) released.CopyTo(currentReleased, 0);
        Array.Clear(released);
        return isAccepted;
    }

    private void StartRound()
    {
        missingWeight = parameters.MissingWeight;
        changeWeight = IsFound || (steps / parameters.StepsPerRound & 1) == 0 ? 1 : parameters.LowChangeWeight;
        var fromBest = IsFound && random.NextBoolean(parameters.RoundFromBest);
        loop.Current.CopyFrom(fromBest ? Best : RoundStart());
        if (fromBest) bestReleased.CopyTo(currentReleased, 0);
        else Array.Clear(currentReleased);
        if (!IsFound && steps > parameters.RoundsBeforeNextChoice * parameters.StepsPerRound) TakeNextChoice(loop.Current);
        EvaluateCurrent();
    }

    /// <summary>
    /// Two rounds in turn from each of: all work kept; less of it; the kept shifts alone. Each leaves more room than the one
    /// before, and more work to insert.
    /// </summary>
    private PartialSchedule RoundStart() =>
        (steps / parameters.StepsPerRound / 2 % 3) switch { 0 => keptMost, 1 => keptLess, _ => keptShifts };

    /// <summary>
    /// Switches a random display to its next choice. This may free the time and people that missing work needs.
    /// </summary>
    private void TakeNextChoice(PartialSchedule schedule)
    {
        var decision = random.NextBelow(compact.DisplayDecisions.Length);
        for (var tries = 0; tries < compact.DisplayDecisions.Length; tries++)
        {
            var choices = compact.DisplayDecisions[decision].OpenChoices;
            var next = Array.IndexOf(choices, schedule.Choice[decision]) + 1;
            if (next < choices.Length)
            {
                serialInsertion.SwitchChoice(schedule, decision, choices[next]);
                return;
            }
            decision = (decision + 1) % compact.DisplayDecisions.Length;
        }
    }

    private void EvaluateCurrent()
    {
        missing = serialInsertion.MissingIn(loop.Current);
        missingWork = missing.Sum(serialInsertion.WorkContent);
        loop.CurrentCost = CostOf(loop.Current, missingWork);
    }

    /// <summary>Cost in changes; a point of the goal leftOut counts as one change.</summary>
    private double CostOf(PartialSchedule schedule, int missingContent) =>
        missingWeight * missingContent + objective.LeftOut(schedule) + changeWeight * objective.Changes(schedule)
        + parameters.DisplacedWorkWeight * compact.Published.DisplacedWork(schedule);
}
