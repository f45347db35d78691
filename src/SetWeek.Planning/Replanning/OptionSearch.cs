using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// Searches the options of a re-plan within one budget. It first finds any plan, then searches each kind of option briefly. The
/// remaining time goes to the options that are worth improving. A plan found for one kind is offered to all others.
/// </summary>
public static class OptionSearch
{
    /// <summary>Goals that options are always compared by, in addition to the goals of the week.</summary>
    private static readonly GoalId[] AlwaysCompared = [GoalId.LeftOut, GoalId.Changes, GoalId.Cost, GoalId.Finish, GoalId.Nights];

    /// <summary>
    /// Limits of the first round, for the first kind and for each other kind: a share of the budget, and at most so many seconds
    /// or effort units.
    /// </summary>
    private const double FirstShare = 0.12, FirstLimit = 1, OtherShare = 0.05, OtherLimit = 0.35;

    /// <summary>The share of the second round that the first kind gets.</summary>
    private const double FirstShareOfSecondRound = 0.45;

    /// <summary>Finds at most three options for a published week after facts have changed.</summary>
    /// <param name="week">A valid week.</param>
    /// <param name="limits">Limits of the whole search.</param>
    /// <param name="replan">The published plan and the facts since.</param>
    /// <param name="onProgress">Called whenever an option is found or improved; from any thread, one call at a time.</param>
    /// <param name="stop">Ends the search within 200 ms; the options found so far are returned.</param>
    public static ReplanOffer Find(Week week, SearchLimits limits, Replan replan, Action<OptionSearchProgress>? onProgress = null,
        CancellationToken stop = default)
    {
        var budget = new Budget(limits, stop);
        var situation = new ReplanSituation(Problem.Of(week, replan));
        var gate = new Lock();
        var subproblems = new List<OptionSubproblem>();
        void Report()
        {
            lock (gate)
                onProgress?.Invoke(new OptionSearchProgress(
                    budget.Elapsed, subproblems[0].Option!.Plan, OptionSelection.Of(OptionsOf(subproblems))));
        }

        GoalId[] comparedGoals = [.. week.ReplanGoals.Select(choice => choice.Goal).Union(AlwaysCompared)];
        var first = new OptionSubproblem(AllOptionKinds.InOrder[0], situation, comparedGoals, Report);
        lock (gate) subproblems.Add(first);
        first.Search(budget, Math.Min(FirstShare * budget.Total, FirstLimit));
        if (!first.HasOption)
        {
            // The planner explains an infeasible week. It is stopped as soon as it has a plan.
            using var found = CancellationTokenSource.CreateLinkedTokenSource(stop);
            var plan = Planner.Plan(week, budget.ChildLimits(budget.Remaining), replan, seen =>
            {
                // With an effort limit it is not stopped: the planner does not return the effort used, so all of it is charged.
                if (first.Adopt(situation.Problem, seen.Best) && limits.Effort is null) found.Cancel();
            }, found.Token);
            if (limits.Effort is not null) budget.Charge(budget.Remaining);
            if (!first.Adopt(situation.Problem, plan)) return new ReplanOffer(plan, []);
        }
        foreach (var kind in AllOptionKinds.InOrder.Skip(1))
            if (kind.For(situation) is not null)
                lock (gate) subproblems.Add(new OptionSubproblem(kind, situation, comparedGoals, Report));
        foreach (var other in subproblems.Skip(1))
            Improve(other, subproblems, budget, Math.Min(OtherShare * budget.Total, OtherLimit));
        Improve(first, subproblems, budget, FirstShareOfSecondRound * budget.Remaining);
        var others = WorthImproving(subproblems);
        for (var next = 0; next < others.Count; next++)
            Improve(others[next], subproblems, budget, budget.Remaining / (others.Count - next));
        if (budget.Remaining > 0) Improve(first, subproblems, budget, budget.Remaining);

        var shown = OptionSelection.Of(OptionsOf(subproblems));
        return new ReplanOffer(shown[0].Plan,
            [.. shown.Select(option => stop.IsCancellationRequested ? option : WithChance(situation.Problem, option))]);
    }

    /// <summary>Measured after the search, because it takes as long as finding many plans.</summary>
    private static Option WithChance(Problem problem, Option option) =>
        option with { Chance = HoldChance.Of(problem, PlanConverter.ScheduleOf(problem, option.Plan)) };

    private static void Improve(OptionSubproblem subproblem, List<OptionSubproblem> subproblems, Budget budget, double limit)
    {
        foreach (var other in subproblems.Where(other => other != subproblem)) subproblem.AdoptFrom(other);
        subproblem.Search(budget, limit);
        foreach (var other in subproblems.Where(other => other != subproblem)) other.AdoptFrom(subproblem);
    }

    /// <summary>The kinds that would be shown now, and those without a plan that are not proven infeasible.</summary>
    private static List<OptionSubproblem> WorthImproving(List<OptionSubproblem> subproblems)
    {
        var shown = OptionSelection.Of(OptionsOf(subproblems)).Select(option => option.Id).ToHashSet();
        return [.. subproblems.Skip(1).Where(other => other.HasOption ? shown.Contains(other.Id) : !other.Infeasible)];
    }

    private static List<Option> OptionsOf(List<OptionSubproblem> subproblems) =>
        [.. subproblems.Select(subproblem => subproblem.Option).OfType<Option>()];
}
