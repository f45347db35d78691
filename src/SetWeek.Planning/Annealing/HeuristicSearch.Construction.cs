using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// How a plan comes to stand: the published one repaired or one made from nothing, and room made for what is missing.
/// </summary>
internal sealed partial class HeuristicSearch
{
    /// <summary>A first plan, or as near to one as some attempts come; true where there is one.</summary>
    public bool FindFirst() => problem.Facts is { } facts ? RepairPublished(facts) : Construct();

    /// <summary>
    /// A first plan, in which until so much of the budget is gone room is found for what is left out; true where it is no worse
    /// than another in the goals above one.
    /// </summary>
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
        if (incumbent.Best is { } known)
        {
            Adopt(known);
            repair.TakeIfBetter(annealing.Best);
            return true;
        }
        var soon = construction.Complete(working) && StartImproving();
        var (firstSteps, share) = (parameters.Repair.FirstSteps, parameters.Repair.Share);
        if (RepairSome(firstSteps, 1) || soon) return true;
        for (var again = 0; again < parameters.Repair.Attempts && !annealing.HasPlan; again++)
            if (Reconstruct(again * parameters.Construction.ReconstructionAttempts, 1) || RepairSome(firstSteps, 1)) break;
        // One made afresh is there to be shown; what is kept of the published plan is mended on for a nearer one.
        while (annealing.HasPlan && !repair.IsFound && !IsOver(share)) RepairSome(parameters.Repair.FurtherSteps, share);
        return annealing.HasPlan && RepairSome(parameters.Repair.LastSteps, share);
    }

    /// <summary>
    /// A plan as if none had been published: where the facts bar much of what was, that is found sooner than a repair, which may
    /// then begin with it.
    /// </summary>
    private bool Reconstruct(int attempt, double until)
    {
        compact.Published.AllShiftsReleased = true;
        var (found, least) = (false, int.MaxValue);
        for (var last = attempt + parameters.Construction.ReconstructionAttempts; attempt < last && !found && !IsOver(until); attempt++)
        {
            found = construction.Construct(working, initial, attempt);
            if (!found && (serialInsertion.MissingCount == 0 || serialInsertion.MissingWork >= least)) continue;
            least = serialInsertion.MissingWork;
            leastMissing.CopyFrom(working);
        }
        working.CopyFrom(leastMissing);
        found = found || least < int.MaxValue && TryComplete(until, parameters.Feasibility.ReconstructionSteps);
        compact.Published.AllShiftsReleased = false;
        return found && StartImproving();
    }

    private bool Construct()
    {
        for (var attempt = 0; attempt < parameters.Construction.Attempts && !budget.Spent; attempt++)
        {
            if (construction.Construct(working, initial, attempt) && StartImproving()) return true;
            ChargeEffort();
        }
        return false;
    }

    /// <summary>So many steps, in which the published plan is repaired; true where there is a plan by then.</summary>
    private bool RepairSome(int maxSteps, double until)
    {
        for (var step = 0; step < maxSteps && !IsOver(until); step++)
            if (repair.Step() && annealing.TryStartFrom(repair.Best)) Offer();
        return annealing.HasPlan;
    }

    /// <summary>Goes on looking for a plan, with chance and by making room; true where there is one.</summary>
    public bool Find(double until = 1)
    {
        for (var restart = 1; !annealing.HasPlan && !IsOver(until); restart++)
        {
            // Where no start is ever looked at, no effort would be counted, and this would not end.
            budget.Charge(parameters.MinEffortPerRestart);
            if (incumbent.Best is { } other) Adopt(other);
            else if (problem.Facts is not null)
            {
                if (RepairSome(parameters.Repair.LastSteps, until)
                    || Reconstruct((parameters.Repair.Attempts + restart) * parameters.Construction.ReconstructionAttempts, until))
                    break;
            }
            else if (construction.Construct(working, initial, restart) || TryComplete(until, parameters.Feasibility.Steps)) StartImproving();
        }
        return annealing.HasPlan;
    }

    /// <summary>
    /// Finds room for all that a part of a plan lacks, whatever it costs; true where there is a plan then.
    /// </summary>
    /// <param name="part">What to keep or make room in.</param>
    /// <param name="until">In share of the budget.</param>
    public bool CompletePart(Schedule part, double until)
    {
        reader.Read(working, initial, part);
        return TryComplete(until, int.MaxValue) && StartImproving();
    }

    private bool TryComplete(double until, int maxSteps)
    {
        feasibilitySearch.StartFrom(working);
        // Nothing is missing: then it is the roster or a clean-down that did not fit, and there is nothing to make room for.
        if (feasibilitySearch.IsComplete) return serialInsertion.InsertAll(working, [], mayChangeChoices: false);
        for (var step = 0; step < maxSteps && !feasibilitySearch.IsComplete && !IsOver(until); step++)
            if (feasibilitySearch.Step()) break;
        if (feasibilitySearch.IsComplete) working.CopyFrom(feasibilitySearch.Current);
        return feasibilitySearch.IsComplete;
    }
}
