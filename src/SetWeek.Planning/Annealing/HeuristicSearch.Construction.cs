using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>First plans: repair of the published plan, construction from nothing, and completion of partial schedules.</summary>
internal sealed partial class HeuristicSearch
{
    /// <summary>Looks for a first plan in a limited number of attempts; true if there is one.</summary>
    public bool FindFirst() => problem.Facts is { } facts ? RepairPublished(facts) : Construct();

    /// <summary>
    /// Finds a first plan and then improves the goal leftOut. True if the plan is no worse than the given values in the goals
    /// before the given one.
    /// </summary>
    /// <param name="leftOutUntil">Share of the budget at which to stop.</param>
    /// <param name="goal">Index of the first goal that is not compared.</param>
    /// <param name="bestValues">Values by goal.</param>
    public bool FindFirst(double leftOutUntil, int goal, long[] bestValues)
    {
        if (!FindFirst()) return false;
        ReduceLeftOut(leftOutUntil);
        return annealing.BestValues.AsSpan(0, goal).SequenceCompareTo(bestValues.AsSpan(0, goal)) <= 0;
    }

    private bool RepairPublished(ReplanFacts facts)
    {
        reader.ReadWhatFits(working, initial, facts.Published);
        var keptLess = new PartialSchedule(compact);
        reader.ReadWhatFits(keptLess, initial, facts.Published, dropSuccessors: true);
        repair.StartFrom(working, keptLess);
        if (incumbent.Best is { } best)
        {
            Adopt(best);
            repair.TakeIfBetter(annealing.Best);
            return true;
        }
        var isCompleted = construction.Complete(working) && StartImproving();
        var (firstSteps, share) = (parameters.Repair.FirstSteps, parameters.Repair.Share);
        if (RepairSome(firstSteps, 1) || isCompleted) return true;
        for (var attempt = 0; attempt < parameters.Repair.Attempts && !annealing.HasPlan; attempt++)
            if (Reconstruct(attempt * parameters.Construction.ReconstructionAttempts, 1) || RepairSome(firstSteps, 1)) break;
        // A reconstruction can be shown already. The repair continues, because it may find a plan with fewer changes.
        while (annealing.HasPlan && !repair.IsFound && !IsOver(share)) RepairSome(parameters.Repair.FurtherSteps, share);
        return annealing.HasPlan && RepairSome(parameters.Repair.LastSteps, share);
    }

    /// <summary>
    /// Constructs a plan without regard to the published shifts. If the facts rule out much of the published plan, this finds a
    /// plan sooner than a repair does. True if there is a plan.
    /// </summary>
    /// <param name="firstAttempt">Number of the first construction attempt; it selects the priority rule and the noise.</param>
    /// <param name="until">Share of the budget at which to stop.</param>
    private bool Reconstruct(int firstAttempt, double until)
    {
        compact.Published.AllShiftsReleased = true;
        var (isFound, leastWork) = (false, int.MaxValue);
        var end = firstAttempt + parameters.Construction.ReconstructionAttempts;
        for (var attempt = firstAttempt; attempt < end && !isFound && !IsOver(until); attempt++)
        {
            isFound = construction.Construct(working, initial, attempt);
            if (!isFound && (serialInsertion.MissingCount == 0 || serialInsertion.MissingWork >= leastWork)) continue;
            leastWork = serialInsertion.MissingWork;
            leastMissing.CopyFrom(working);
            RecordAttempt();
        }
        working.CopyFrom(leastMissing);
        isFound = isFound || leastWork < int.MaxValue && TryComplete(until, parameters.Feasibility.ReconstructionSteps);
        compact.Published.AllShiftsReleased = false;
        return isFound && StartImproving();
    }

    private bool Construct()
    {
        for (var attempt = 0; attempt < parameters.Construction.Attempts && !budget.Spent; attempt++)
        {
            if (construction.Construct(working, initial, attempt) && StartImproving()) return true;
            RecordAttempt();
            ChargeEffort();
        }
        return false;
    }

    /// <summary>Records which stints the schedule in <see cref="working"/> lacks, in case that no plan is found.</summary>
    private void RecordAttempt()
    {
        var missing = serialInsertion.MissingIn(working);
        incumbent.RecordAttempt(missing, missing.Sum(serialInsertion.WorkContent));
    }

    /// <summary>Repairs the published plan for a number of steps; true if there is a plan.</summary>
    private bool RepairSome(int maxSteps, double until)
    {
        for (var step = 0; step < maxSteps && !IsOver(until); step++)
            if (repair.Step() && annealing.TryStartFrom(repair.Best)) Offer();
        return annealing.HasPlan;
    }

    /// <summary>Looks for a plan by restarts until a share of the budget is spent; true if there is one.</summary>
    public bool Find(double until = 1)
    {
        for (var restart = 1; !annealing.HasPlan && !IsOver(until); restart++)
        {
            // A restart that evaluates no start must charge effort too. Otherwise this loop might not end.
            budget.Charge(parameters.MinEffortPerRestart);
            if (incumbent.Best is { } best) Adopt(best);
            else if (problem.Facts is not null)
            {
                var firstAttempt = (parameters.Repair.Attempts + restart) * parameters.Construction.ReconstructionAttempts;
                if (RepairSome(parameters.Repair.LastSteps, until) || Reconstruct(firstAttempt, until)) break;
            }
            else if (construction.Construct(working, initial, restart) || TryComplete(until, parameters.Feasibility.Steps))
                StartImproving();
        }
        return annealing.HasPlan;
    }

    /// <summary>Completes a partial plan without regard to its cost. Returns true if a plan was found.</summary>
    /// <param name="part">Starting point of the search, which may move its work.</param>
    /// <param name="until">Share of the budget at which to stop.</param>
    public bool CompletePart(Schedule part, double until)
    {
        reader.Read(working, initial, part);
        return TryComplete(until, int.MaxValue) && StartImproving();
    }

    /// <summary>Completes the schedule in <see cref="working"/>; true if it is complete.</summary>
    private bool TryComplete(double until, int maxSteps)
    {
        feasibilitySearch.StartFrom(working);
        // No stint is missing, so the roster or a clean-down failed: insert those again.
        if (feasibilitySearch.IsComplete) return serialInsertion.InsertAll(working, [], mayChangeChoices: false);
        for (var step = 0; step < maxSteps && !feasibilitySearch.IsComplete && !IsOver(until); step++)
        {
            incumbent.RecordAttempt(feasibilitySearch.Missing, feasibilitySearch.MissingWork);
            if (feasibilitySearch.Step()) break;
        }
        if (feasibilitySearch.IsComplete) working.CopyFrom(feasibilitySearch.Current);
        return feasibilitySearch.IsComplete;
    }
}
