using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Goals that come before money each have a time of their own before it is saved: what is left out first, then changes.
/// </summary>
internal sealed partial class GenerationSearch
{
    private const int FirstWishSteps = 40, MostWishSteps = 2000;

    /// <summary>Most of the budget that goes into what is left out, if that is the first goal.</summary>
    private const double RoomShare = 0.4;

    /// <summary>
    /// How much worse, in units of a goal before money, a plan may be while that goal is bettered: at the beginning and at the
    /// end; and the share of what is left that it is given: changes, which people read first, more than others.
    /// </summary>
    private const double FirstHottest = 0.5, FirstColdest = 0.15, ForemostShare = 0.5, ChangesShare = 0.75;

    /// <summary>
    /// Wants left out, and displays replaced, are tried again, the most valuable first: some steps for each, then more for each.
    /// A plan bettered in between leaves more room, so both take turns.
    /// </summary>
    public void FindRoom(double until)
    {
        if (problem.Goals is not [{ Goal: "leftOut" }, ..]) return;
        var steps = FirstWishSteps;
        while (!Over(until) && annealing.BestValues[0] > incumbent.Bounds()[0])
        {
            int[] dearestFirst =
                [.. Enumerable.Range(0, image.Options.Length).OrderByDescending(option => Gain(annealing.Best, option))];
            foreach (var at in dearestFirst)
                while (Gain(annealing.Best, at) > 0 && Wish(at, steps, until)) { }
            for (var step = 0; step < 2 * steps && !Over(until); step++)
                if (annealing.Step(Hottest / 4)) held = true;
            steps = Math.Min(2 * steps, MostWishSteps);
            Report();
        }
    }

    private int Gain(Draft best, int option) =>
        image.Options[option].Values[best.Choice[option]] - image.Options[option].Values[image.Options[option].Choices[0]];

    /// <summary>Tries one display with each choice better than the one it has; true where that made a better plan.</summary>
    private bool Wish(int option, int steps, double until)
    {
        var values = image.Options[option].Values;
        foreach (var choice in image.Options[option].Choices)
        {
            if (values[choice] >= values[annealing.Best.Choice[option]]) break;
            draft.CopyFrom(annealing.Best);
            recreation.Switch(draft, option, choice);
            if (!Fit(until, steps) || !annealing.TryBegin(draft)) continue;
            Offer();
            return true;
        }
        return false;
    }

    /// <summary>
    /// A goal that comes before money weighs too much to be stepped back in while money is saved; so it has a time of its own,
    /// with a heat in its own units.
    /// </summary>
    private void BetterFirst(double until)
    {
        if (annealing.Foremost(incumbent.Bounds()) is not (>= 0 and var goal)) return;
        var share = problem.Goals[goal].Goal == "changes" ? ChangesShare : ForemostShare;
        BetterOne(goal, FirstHottest, FirstColdest, budget.Share + share * (until - budget.Share), () =>
        {
            LearnFromOthers();
            return false;
        });
    }

    /// <summary>
    /// One goal is bettered, with a heat in its own units, until so much of the budget is gone or it is enough.
    /// </summary>
    public void BetterOne(int goal, double hottest, double coldest, double until, Func<bool> enough)
    {
        var began = budget.Share;
        while (!Over(until) && annealing.BestValues[goal] > incumbent.Bounds()[goal])
        {
            var share = (budget.Share - began) / (until - began);
            if (annealing.Step(hottest * Math.Pow(coldest / hottest, share), goal)) held = true;
            if ((annealing.Steps & 15) != 0) continue;
            Report();
            if (enough()) break;
        }
        if (held) Offer();
        annealing.Return();
    }
}
