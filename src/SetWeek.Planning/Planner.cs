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

/// <summary>Plans a week: searches for the best plan, proves bounds, and explains why an infeasible week has no plan.</summary>
public static class Planner
{
    /// <summary>
    /// Least budget for the explanation of an infeasible week, in seconds or units of effort. It may exceed the limits, when the
    /// proof took nearly all of them.
    /// </summary>
    private const double MinExplanationSeconds = 3;

    /// <summary>
    /// Searches for the best plan of a week until the limits are reached, the plan is proven optimal, or
    /// <paramref name="stop"/> is cancelled.
    /// </summary>
    /// <param name="week">A valid week, as <see cref="Model.Files.WeekFile"/> reads it.</param>
    /// <param name="limits">When to stop, and what to use.</param>
    /// <param name="replan">The published plan, the time it is now and the progress reports; null for a first plan.</param>
    /// <param name="onProgress">
    /// Called with each better plan, which has been checked, and with each better bound. For an infeasible week: called when
    /// more of its explanation is known. The calls come from any thread, one at a time. They should be short and must not throw.
    /// </param>
    /// <param name="stop">Ends the search within 200 ms. The plan found by then is returned.</param>
    /// <returns>
    /// The best plan found, with a bound for every goal; it is optimal where every goal is at its bound. Infeasible, with a
    /// conflict and repairs, where the week is proven to have no plan. Unknown where no plan was found in the limits.
    /// </returns>
    public static Plan Plan(Week week, SearchLimits limits, Replan? replan = null, Action<SearchProgress>? onProgress = null,
        CancellationToken stop = default)
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(stop);
        var budget = new Budget(limits, ending.Token);
        var problem = Problem.Of(week, replan);
        Incumbent incumbent = null!;
        incumbent = new Incumbent(problem, (schedule, values) =>
        {
            onProgress?.Invoke(new SearchProgress(
                budget.Elapsed, PlanBuilder.FromSchedule(problem, schedule, values, incumbent.Bounds())));
            if (incumbent.GapClosed) ending.Cancel();
        });

        var impossible = Search(problem, incumbent, budget, ending.Cancel);
        if (incumbent.Best is { } best)
            return PlanBuilder.FromSchedule(problem, best, incumbent.Values!, incumbent.Bounds()) with
            {
                Tight = TightRules.Of(problem, best),
            };
        return WithoutPlan(problem, impossible, incumbent.ClosestAttempt, budget, onProgress, stop);
    }

    /// <summary>
    /// The result of a search that found no plan: infeasible with its explanation, or unknown.
    /// </summary>
    /// <param name="problem">The problem that was searched.</param>
    /// <param name="impossible">True if it is proven to have no plan.</param>
    /// <param name="missing">Indices of the stints that the closest attempt lacks.</param>
    /// <param name="budget">The budget of the search; what remains of it is used for the explanation.</param>
    /// <param name="onProgress">Called when more of the explanation is known.</param>
    /// <param name="stop">Ends the explanation.</param>
    internal static Plan WithoutPlan(Problem problem, bool impossible, IReadOnlyList<int> missing, Budget budget,
        Action<SearchProgress>? onProgress, CancellationToken stop)
    {
        if (!impossible) return PlanBuilder.Unknown(problem, UnplacedStints.Of(problem, missing));
        var explanationBudget = budget.CreateIndependent(Math.Max(MinExplanationSeconds, budget.Remaining), stop);
        return InfeasibilityExplanation.Of(problem, explanationBudget,
            budget.Deterministic ? budget.Used : budget.Elapsed.TotalSeconds,
            known => onProgress?.Invoke(new SearchProgress(budget.Elapsed, known.AsPlan(problem)))).AsPlan(problem);
    }

    /// <summary>
    /// Searches until the budget is spent or cancelled. True where the problem is proven to have no plan.
    /// </summary>
    /// <param name="problem">The problem to search.</param>
    /// <param name="incumbent">Receives every plan and bound; may hold a plan to start from.</param>
    /// <param name="budget">Seconds or units of effort, threads and seed.</param>
    /// <param name="endBudget">Cancels the budget.</param>
    internal static bool Search(Problem problem, Incumbent incumbent, Budget budget, Action endBudget)
    {
        // The first plan comes before the propagation, because somebody may be waiting for it.
        var generation = new HeuristicSearch(problem, incumbent, budget);
        if (problem.Facts is { } facts) incumbent.Offer(facts.PublishedWithActuals);
        generation.FindFirst();
        var impossible =
            new SearchPortfolio(problem, RootPropagation.Of(problem), generation, incumbent, budget).Run(endBudget);
        // The best plan may come from another search.
        if (!incumbent.GapClosed) generation.ReassignStaff();
        return impossible;
    }
}
