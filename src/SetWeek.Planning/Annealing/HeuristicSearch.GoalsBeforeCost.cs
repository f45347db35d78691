using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Goals that come before money each have a time of their own before it is saved: what is left out first, then changes.
/// </summary>
internal sealed partial class HeuristicSearch
{
    private const int FirstDisplaySteps = 40, MaxDisplaySteps = 2000;

    /// <summary>Most of the budget that goes into what is left out, if that is the first goal.</summary>
    private const double LeftOutShare = 0.4;

    /// <summary>
    /// How much worse, in units of a goal before money, a plan may be while that goal is bettered: at the beginning and at the
    /// end; and the share of what is left that it is given: changes, which people read first, more than others.
    /// </summary>
    private const double GoalInitialTemperature = 0.5, GoalFinalTemperature = 0.15, GoalShare = 0.5, ChangesShare = 0.75;

    /// <summary>
    /// Wants left out, and displays replaced, are tried again, the most valuable first: some steps for each, then more for each.
    /// A plan bettered in between leaves more room, so both take turns.
    /// </summary>
    public void ReduceLeftOut(double until)
    {
        if (problem.Goals is not [{ Goal: GoalId.LeftOut }, ..]) return;
        var steps = FirstDisplaySteps;
        while (!IsOver(until) && annealing.BestValues[0] > incumbent.Bounds()[0])
        {
            int[] dearestFirst =
                [.. Enumerable.Range(0, compact.DisplayDecisions.Length).OrderByDescending(option => LeftOutGain(annealing.Best, option))];
            foreach (var at in dearestFirst)
                while (LeftOutGain(annealing.Best, at) > 0 && TryBetterChoice(at, steps, until)) { }
            for (var step = 0; step < 2 * steps && !IsOver(until); step++)
                if (annealing.Step(InitialTemperature / 4)) offerPending = true;
            steps = Math.Min(2 * steps, MaxDisplaySteps);
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
        var share = problem.Goals[goal].Goal == GoalId.Changes ? ChangesShare : GoalShare;
        ImproveGoal(goal, GoalInitialTemperature, GoalFinalTemperature, budget.SpentShare + share * (until - budget.SpentShare), () =>
        {
            AdoptIncumbent();
            return false;
        });
    }

    /// <summary>
    /// One goal is bettered, with a heat in its own units, until so much of the budget is gone or it is enough.
    /// </summary>
    public void ImproveGoal(int goal, double initialTemperature, double finalTemperature, double until, Func<bool> stop)
    {
        var began = budget.SpentShare;
        while (!IsOver(until) && annealing.BestValues[goal] > incumbent.Bounds()[goal])
        {
            var share = (budget.SpentShare - began) / (until - began);
            if (annealing.Step(initialTemperature * Math.Pow(finalTemperature / initialTemperature, share), goal)) offerPending = true;
            if ((annealing.Steps & 15) != 0) continue;
            OfferIfDue();
            if (stop()) break;
        }
        if (offerPending) Offer();
        annealing.ReturnToBest();
    }
}
