using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Portfolio;
using SetWeek.Planning.Search;

namespace SetWeek.Planning;

/// <summary>The way in: a week, and how long to look, to a plan or to why there is none.</summary>
public static class Planner
{
    /// <summary>Seconds, or units, for the question why there is no plan, where proving that left less.</summary>
    private const double MinExplanationSeconds = 3;

    /// <summary>
    /// The best plan found for a week, with a bound proven for every goal; or none, with the rules that cannot hold together
    /// and what would help.
    /// Stops on time, on effort or on <paramref name="stop"/>, with what it has.
    /// </summary>
    /// <param name="week">A valid week.</param>
    /// <param name="limits">When to stop, and with what resources.</param>
    /// <param name="replan">The published plan and the facts since; null for a first plan.</param>
    /// <param name="onProgress">
    /// Told of each better plan, checked, and of better bounds, or of why there is none; from any thread, one call at a time.
    /// </param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    public static Plan Plan(Week week, SearchLimits limits, Replan? replan = null, Action<SearchProgress>? onProgress = null,
        CancellationToken stop = default)
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var budget = new Budget(limits, ending.Token);
        var problem = Problem.Of(week, replan);
        Incumbent incumbent = null!;
        incumbent = new Incumbent(problem, (schedule, values) =>
        {
            onProgress?.Invoke(new SearchProgress(budget.Elapsed, PlanBuilder.FromSchedule(problem, schedule, values, incumbent.Bounds())));
            if (incumbent.GapClosed) ending.Cancel();
        });

        var impossible = Search(problem, incumbent, budget, ending.Cancel);
        if (incumbent.Best is { } best)
            return PlanBuilder.FromSchedule(problem, best, incumbent.Values!, incumbent.Bounds()) with { Tight = TightRules.Of(problem, best) };
        if (!impossible) return PlanBuilder.Unknown(problem);
        return InfeasibilityExplanation.Of(problem, budget.CreateIndependent(Math.Max(MinExplanationSeconds, budget.Remaining), stop),
            limits.Effort is null ? budget.Elapsed.TotalSeconds : budget.Used,
            known => onProgress?.Invoke(new SearchProgress(budget.Elapsed, known.AsPlan(problem)))).AsPlan(problem);
    }

    /// <summary>
    /// Betters what there is until the budget is spent or ended; true where it is proven that there is no plan.
    /// </summary>
    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Given every plan and bound; it may hold a plan to begin with.</param>
    /// <param name="budget">What may be used of time or effort.</param>
    /// <param name="endBudget">Ends the budget.</param>
    internal static bool Search(Problem problem, Incumbent incumbent, Budget budget, Action endBudget)
    {
        // A plan first, even before what is known at once of the week: somebody may be waiting for it.
        var generation = new HeuristicSearch(problem, incumbent, budget);
        if (problem.Facts is { } facts) incumbent.Offer(facts.PublishedWithActuals);
        generation.FindFirst();
        return new SearchPortfolio(problem, RootPropagation.Of(problem), generation, incumbent, budget).Run(endBudget);
    }
}
