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
    private static readonly GoalId[] AlwaysCompared = [GoalId.LeftOut, GoalId.Changes, GoalId.Cost, GoalId.Finish, GoalId.Nights];

    /// <summary>
    /// Shares of all there is, and most in seconds or units, that the first round gives to the first and to each other.
    /// </summary>
    private const double FirstShare = 0.12, FirstLimit = 1, OtherShare = 0.05, OtherLimit = 0.35;

    /// <summary>Share of the second round that goes to the first.</summary>
    private const double FirstShareOfSecondRound = 0.45;

    /// <param name="week">A valid week.</param>
    /// <param name="limits">When to stop, and with what resources, all options together.</param>
    /// <param name="replan">The published plan and the facts since.</param>
    /// <param name="onProgress">Told of the options as they are found and bettered; from any thread, one call at a time.</param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    public static ReplanOffer Find(Week week, SearchLimits limits, Replan replan, Action<OptionSearchProgress>? onProgress = null,
        CancellationToken stop = default)
    {
        var budget = new Budget(limits, stop);
        var situation = new ReplanSituation(Problem.Of(week, replan));
        var gate = new Lock();
        var ways = new List<OptionSubproblem>();
        void Tell()
        {
            lock (gate) onProgress?.Invoke(new OptionSearchProgress(budget.Elapsed, ways[0].Option!.Plan, OptionSelection.Of(OptionsOf(ways))));
        }

        GoalId[] columns = [.. week.ReplanGoals.Select(choice => choice.Goal).Union(AlwaysCompared)];
        var first = new OptionSubproblem(AllOptionKinds.InOrder[0], situation, columns, Tell);
        lock (gate) ways.Add(first);
        first.Search(budget, Math.Min(FirstShare * budget.Total, FirstLimit));
        if (!first.HasOption)
        {
            // Until there is one, and with the reason where there is none.
            using var found = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var plan = Planner.Plan(week, budget.ChildLimits(budget.Remaining), replan, seen =>
            {
                // How much effort that takes is not told, so then it is all taken.
                if (first.Adopt(situation.Problem, seen.Best) && limits.Effort is null) found.Cancel();
            }, found.Token);
            if (limits.Effort is not null) budget.Charge(budget.Remaining);
            if (!first.Adopt(situation.Problem, plan)) return new ReplanOffer(plan, []);
        }
        foreach (var kind in AllOptionKinds.InOrder.Skip(1))
            if (kind.For(situation) is not null)
                lock (gate) ways.Add(new OptionSubproblem(kind, situation, columns, Tell));
        foreach (var way in ways.Skip(1)) Improve(way, ways, budget, Math.Min(OtherShare * budget.Total, OtherLimit));
        Improve(first, ways, budget, FirstShareOfSecondRound * budget.Remaining);
        var others = WorthImproving(ways);
        for (var next = 0; next < others.Count; next++) Improve(others[next], ways, budget, budget.Remaining / (others.Count - next));
        if (budget.Remaining > 0) Improve(first, ways, budget, budget.Remaining);

        var shown = OptionSelection.Of(OptionsOf(ways));
        return new ReplanOffer(shown[0].Plan, shown);
    }

    private static void Improve(OptionSubproblem subproblem, List<OptionSubproblem> subproblems, Budget budget, double limit)
    {
        foreach (var other in subproblems.Where(other => other != subproblem)) subproblem.AdoptFrom(other);
        subproblem.Search(budget, limit);
        foreach (var other in subproblems.Where(other => other != subproblem)) other.AdoptFrom(subproblem);
    }

    /// <summary>Those shown as it stands, and those without a plan that may have one.</summary>
    private static List<OptionSubproblem> WorthImproving(List<OptionSubproblem> subproblems)
    {
        var shown = OptionSelection.Of(OptionsOf(subproblems)).Select(option => option.Id).ToHashSet();
        return [.. subproblems.Skip(1).Where(way => way.HasOption ? shown.Contains(way.Id) : !way.Infeasible)];
    }

    private static List<Option> OptionsOf(List<OptionSubproblem> subproblems) => [.. subproblems.Select(way => way.Option).OfType<Option>()];
}
