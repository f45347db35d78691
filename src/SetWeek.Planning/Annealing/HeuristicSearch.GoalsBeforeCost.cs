using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing.Parameters;

namespace SetWeek.Planning.Annealing;

/// <summary>Goals before cost: each has its own phase before the cost is improved, leftOut first.</summary>
internal sealed partial class HeuristicSearch
{
    /// <summary>
    /// Tries better choices for displays that are left out or replaced, the most valuable first. Each pass gives each display
    /// more steps. Annealing steps between the passes make room.
    /// </summary>
    /// <param name="until">Share of the budget at which to stop.</param>
    public void ReduceLeftOut(double until)
    {
        if (problem.Goals is not [{ Goal: GoalId.LeftOut }, ..]) return;
        var settings = parameters.Annealing;
        var temperature = settings.TemperatureBetweenPasses * settings.Cooling.InitialTemperature;
        var steps = settings.FirstDisplaySteps;
        while (!IsOver(until) && annealing.BestValues[0] > incumbent.Bounds()[0])
        {
            int[] mostValuableFirst = [.. Enumerable.Range(0, compact.DisplayDecisions.Length).OrderByDescending(LeftOutGain)];
            foreach (var decision in mostValuableFirst)
                while (LeftOutGain(decision) > 0 && TryBetterChoice(decision, steps, until)) { }
            for (var step = 0; step < settings.StepsBetweenPasses * steps && !IsOver(until); step++)
                if (annealing.Step(temperature)) offerPending = true;
            steps = Math.Min(2 * steps, settings.MaxDisplaySteps);
            OfferIfDue();
        }
    }

    /// <summary>How much the best choice of a display would improve the goal leftOut in the best plan.</summary>
    private int LeftOutGain(int decision)
    {
        var values = compact.DisplayDecisions[decision].LeftOutValues;
        return values[annealing.Best.Choice[decision]] - values[compact.DisplayDecisions[decision].OpenChoices[0]];
    }

    /// <summary>Tries each better choice of one display, best first; true if one gives a better plan.</summary>
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
    /// Improves each goal before cost that is above its bound, one after another. Its weight is so large that annealing in the
    /// weighted sum never accepts a worse value of it. This phase has a temperature in the goal's own steps instead.
    /// </summary>
    private void ImproveGoalsBeforeCost(double until)
    {
        var settings = parameters.Annealing;
        for (var goal = 0; annealing.OpenGoalBeforeCost(goal, incumbent.Bounds()) is >= 0 and var open; goal = open + 1)
        {
            var share = problem.Goals[open].Goal switch
            {
                GoalId.Changes => settings.ChangesShare,
                GoalId.Bare => settings.BareShare,
                _ => settings.GoalShare,
            };
            ImproveGoal(open, settings.GoalInitialTemperature, settings.GoalFinalTemperature,
                budget.SpentShare + share * (until - budget.SpentShare), AdoptIncumbent);
        }
    }

    /// <summary>Anneals with the temperature in the steps of one goal, then returns to the best plan.</summary>
    /// <param name="goal">Index of the goal.</param>
    /// <param name="initialTemperature">In steps of the goal.</param>
    /// <param name="finalTemperature">In steps of the goal; above 0.</param>
    /// <param name="until">Share of the budget at which to stop.</param>
    /// <param name="shouldStop">Asked between steps.</param>
    public void ImproveGoal(int goal, double initialTemperature, double finalTemperature, double until, Func<bool> shouldStop)
    {
        var ignoresHold = objective.IsBeforeHold(goal);
        if (ignoresHold) annealing.IgnoreHold(true);
        Anneal(goal, share => GeometricCooling.At(initialTemperature, finalTemperature, share), until,
            parameters.StepsBetweenOffers, shouldStop);
        if (ignoresHold)
        {
            annealing.IgnoreHold(false);
            Offer();
        }
        annealing.ReturnToBest();
    }
}
