using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// Looks for the options of a re-plan within one budget: a first plan at once, then each kind of option for a moment, then all
/// that are worth it until the time is gone. A plan found for one is known to all.
/// </summary>
public static class OptionSearch
{
    /// <summary>Goals that options are compared in, beside those that the week asks for.</summary>
    private static readonly string[] Always = ["leftOut", "changes", "cost", "finish", "nights"];

    /// <summary>
    /// Shares of all there is, and most in seconds or units, that the first round gives to the first and to each other.
    /// </summary>
    private const double FirstShare = 0.12, FirstMost = 1, OtherShare = 0.05, OtherMost = 0.35;

    /// <summary>Share of the second round that goes to the first.</summary>
    private const double FirstAgain = 0.45;

    /// <param name="week">A valid week.</param>
    /// <param name="limits">When to stop, and with what resources, all options together.</param>
    /// <param name="replan">The published plan and the facts since.</param>
    /// <param name="watch">Told of the options as they are found and bettered; from any thread, one call at a time.</param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    public static Offer Find(Week week, Limits limits, Replan replan, Action<OptionsSeen>? watch = null,
        CancellationToken stop = default)
    {
        var budget = new Budget(limits, stop);
        var situation = new Situation(Problem.Of(week, replan));
        var gate = new Lock();
        var ways = new List<OptionWay>();
        void Tell()
        {
            lock (gate) watch?.Invoke(new OptionsSeen(budget.Elapsed, ways[0].Option!.Plan, Shown.Of(Found(ways))));
        }

        string[] columns = [.. week.ReplanGoals.Select(choice => choice.Goal).Union(Always)];
        var first = new OptionWay(AllOptionKinds.InOrder[0], situation, columns, Tell);
        lock (gate) ways.Add(first);
        first.Look(budget, Math.Min(FirstShare * budget.All, FirstMost));
        if (!first.Found)
        {
            // Until there is one, and with the reason where there is none.
            using var found = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var plan = Planner.Plan(week, budget.LimitsOf(budget.Left), replan, seen =>
            {
                // How much effort that takes is not told, so then it is all taken.
                if (first.Learn(situation.Problem, seen.Best) && limits.Effort is null) found.Cancel();
            }, found.Token);
            if (limits.Effort is not null) budget.Use(budget.Left);
            if (!first.Learn(situation.Problem, plan)) return new Offer(plan, []);
        }
        foreach (var kind in AllOptionKinds.InOrder.Skip(1))
            if (kind.For(situation) is not null)
                lock (gate) ways.Add(new OptionWay(kind, situation, columns, Tell));
        foreach (var way in ways.Skip(1)) LookFor(way, ways, budget, Math.Min(OtherShare * budget.All, OtherMost));
        LookFor(first, ways, budget, FirstAgain * budget.Left);
        var others = Worth(ways);
        for (var next = 0; next < others.Count; next++) LookFor(others[next], ways, budget, budget.Left / (others.Count - next));
        if (budget.Left > 0) LookFor(first, ways, budget, budget.Left);

        var shown = Shown.Of(Found(ways));
        return new Offer(shown[0].Plan, shown);
    }

    private static void LookFor(OptionWay way, List<OptionWay> ways, Budget budget, double most)
    {
        foreach (var other in ways.Where(other => other != way)) way.LearnFrom(other);
        way.Look(budget, most);
        foreach (var other in ways.Where(other => other != way)) other.LearnFrom(way);
    }

    /// <summary>Those shown as it stands, and those without a plan that may have one.</summary>
    private static List<OptionWay> Worth(List<OptionWay> ways)
    {
        var shown = Shown.Of(Found(ways)).Select(option => option.Id).ToHashSet();
        return [.. ways.Skip(1).Where(way => way.Found ? shown.Contains(way.Id) : !way.Impossible)];
    }

    private static List<Option> Found(List<OptionWay> ways) => [.. ways.Select(way => way.Option).OfType<Option>()];
}
