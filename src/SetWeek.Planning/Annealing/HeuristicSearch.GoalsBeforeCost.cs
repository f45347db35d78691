using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Goals that come before money each have a time of their own before it is saved: what is left out first, then changes.
/// </summary>
internal sealed partial class HeuristicSearch
{
    /// <summary>
    /// Wants left out, and displays replaced, are tried again, the most valuable first: some steps for each, then more for each.
    /// A plan bettered in between leaves more room, so both take turns.
    /// </summary>
    public void ReduceLeftOut(double until)
    {
        if (problem.Goals is not [{ Goal: GoalId.LeftOut }, ..]) return;
        var annealingParameters = parameters.Annealing;
        var temperature = annealingParameters.TemperatureBetweenPasses * annealingParameters.InitialTemperature;
        var steps = annealingParameters.FirstDisplaySteps;
        while (!IsOver(until) && annealing.BestValues[0] > incumbent.Bounds()[0])
        {
            int[] dearestFirst =
                [.. Enumerable.Range(0, compact.DisplayDecisions.Length).OrderByDescending(option => LeftOutGain(annealing.Best, option))];
            foreach (var at in dearestFirst)
                while (LeftOutGain(annealing.Best, at) > 0 && TryBetterChoice(at, steps, until)) { }
            for (var step = 0; step < annealingParameters.StepsBetweenPasses * steps && !IsOver(until); step++)
                if (annealing.Step(temperature)) offerPending = true;
            steps = Math.Min(2 * steps, annealingParameters.MaxDisplaySteps);
            OfferIfDue();
        }
    }

    private int LeftOutGain(PartialSchedule best, int decision) =>
        compact.DisplayDecisions[decision].LeftOutValues[best.Choice[decision]] - compact.DisplayDecisions[decision].LeftOutValues[compact.DisplayDecisions[decision].OpenChoices[0]];

    /// <summary>Tries one display with each choice better than the one it has; true where that made a better plan.</summary>
    private bool TryBetterChoice(int decision, int maxSteps, double until)
    {
        var values = compact.DisplayDecisions[decision].LeftOutValues;
        foreach (var choice in compact.DisplayDecisions[decision].OpenChoices)
        {
            if (values[choice] >= values[annealing.Best.Choice[decision]]) break;
            working.CopyFrom(annealing.Best);
            serialInsertion.SwitchChoice(working, decision, choice);
            if (!TryComplete(until, maxSteps) || !annealing.TryStartFrom(working)) continue;
            Offer();
            return true;
        }
        return false;
    }

    /// <summary>
    /// A goal that comes before money weighs too much to be stepped back in while money is saved; so it has a time of its own,
    /// with a heat in its own units.
    /// </summary>
    private void ImproveGoalBeforeCost(double until)
    {
        if (annealing.FirstOpenGoalBeforeCost(incumbent.Bounds()) is not (>= 0 and var goal)) return;
        var share = problem.Goals[goal].Goal == GoalId.Changes ? parameters.Annealing.ChangesShare : parameters.Annealing.GoalShare;
        ImproveGoal(goal, parameters.Annealing.GoalInitialTemperature, parameters.Annealing.GoalFinalTemperature,
            budget.SpentShare + share * (until - budget.SpentShare), AdoptIncumbent);
    }

    /// <summary>
    /// One goal is bettered, with a heat in its own units, until so much of the budget is gone or it is enough.
    /// </summary>
    public void ImproveGoal(int goal, double initialTemperature, double finalTemperature, double until, Func<bool> shouldStop)
    {
        Anneal(goal, share => GeometricCooling.At(initialTemperature, finalTemperature, share), until,
            parameters.StepsBetweenOffers, shouldStop);
        annealing.ReturnToBest();
    }
}
