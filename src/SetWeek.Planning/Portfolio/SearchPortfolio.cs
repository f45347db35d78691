using SetWeek.Model.Weeks;
using System.Runtime.ExceptionServices;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Portfolio;

/// <summary>
/// Who searches when. With two workers one betters the plan while the other proves how good it can be; with one they take
/// turns, in an order and with shares that are always the same.
/// </summary>
internal sealed class SearchPortfolio(Problem problem, RootPropagation propagation, HeuristicSearch generation, Incumbent incumbent,
    Budget budget)
{
    /// <summary>Stints up to which the exact model may close the whole week, and is tried before relaxed ones.</summary>
    private const int SmallWeekStints = 70;

    /// <summary>
    /// Stints up to which closing it is worth all the time; above, parts of a plan decided anew soon give more.
    /// </summary>
    private const int TinyWeekStints = 25;

    /// <summary>
    /// Of what is left then, the share in which a small week that has a plan is to be closed; with one goal it is all, since no
    /// goal below it waits for a bound.
    /// </summary>
    private const double CloseShare = 0.3;

    /// <summary>Taking turns: a plan is bettered until so much of the budget is gone, then proven, then bettered again.</summary>
    private const double ImproveUntil = 0.5, ImproveSmallWeekUntil = 0.3, ProveUntil = 0.85;

    /// <summary>
    /// Until so much is gone before weeks with fewer nights are tried; the share of what is left then for that.
    /// </summary>
    private const double ImproveBeforeFewerNightsUntil = 0.1, FewerNightsShare = 0.65;

    /// <summary>Shares of the proving that go to relaxed models: of a small week, and of another.</summary>
    private const double SmallWeekRelaxationShare = 0.3, RelaxationShare = 0.7;

    /// <summary>Of what is left then, the share in which the plan is bettered here too before bounds are proven again.</summary>
    private const double ImproveShareBeforeLastProof = 0.6;

    private readonly LowerBoundSearch lowerBounds = new(problem, propagation, incumbent);
    private bool infeasible;

    private bool IsSmallWeek => problem.Stints.Count <= SmallWeekStints;

    /// <summary>
    /// Searches to the end of the budget, or to a proof. True where it is proven that there is no plan.
    /// </summary>
    /// <param name="cancel">Ends the budget that this searches with.</param>
    public bool Run(Action cancel)
    {
        if (propagation.Infeasible && incumbent.Best is null) return true;
        if (budget.Workers > 1) RunInParallel(cancel);
        else RunInTurns();
        return infeasible && incumbent.Best is null;
    }

    private void RunInTurns()
    {
        if (problem.Stints.Count > TinyWeekStints) Improve(IsSmallWeek ? ImproveSmallWeekUntil : ImproveUntil);
        if (budget.Spent) return;
        var part = budget.CreateChild((ProveUntil - budget.SpentShare) * budget.Remaining / (1 - budget.SpentShare));
        Prove(part);
        budget.Charge(part.Used);
        if (!infeasible) generation.Improve();
    }

    /// <summary>A fault on either side stops the other and comes out here.</summary>
    private void RunInParallel(Action cancel)
    {
        ExceptionDispatchInfo? fault = null;
        var prover = new Thread(() => Guarded(() =>
        {
            Prove(budget.CreateChild(budget.Remaining, budget.Workers - 1));
            if (infeasible) cancel();
        }));
        prover.Start();
        Guarded(() => Improve(1));
        prover.Join();
        fault?.Throw();

        void Guarded(Action search)
        {
            try
            {
                search();
            }
            catch (Exception caught)
            {
                Interlocked.CompareExchange(ref fault, ExceptionDispatchInfo.Capture(caught), null);
                cancel();
            }
        }
    }

    /// <summary>
    /// Where few nights are wanted, a glance at the week as it is, what is left out first of all; then weeks with a night fewer;
    /// then whatever is left to better.
    /// </summary>
    private void Improve(double untilShare)
    {
        if (problem.Facts is null && problem.Goals.Any(choice => choice.Goal == GoalId.Nights))
        {
            generation.Improve(ImproveBeforeFewerNightsUntil);
            var left = (untilShare - budget.SpentShare) / (1 - budget.SpentShare) * budget.Remaining;
            if (!budget.Spent) new NightElimination(problem, incumbent, budget).Run(left * FewerNightsShare);
        }
        generation.Improve(untilShare);
    }

    /// <summary>
    /// A small week is closed by the exact model if it can be, after a glance at relaxed ones; of another the bounds are
    /// proven first, and with the rest of the time the plan is bettered on this side too.
    /// </summary>
    private void Prove(Budget childBudget)
    {
        infeasible = RaiseBounds(childBudget, IsSmallWeek ? SmallWeekRelaxationShare : RelaxationShare);
        if (infeasible || childBudget.Spent || incumbent.GapClosed) return;
        if (IsSmallWeek || incumbent.Best is null)
        {
            var share = incumbent.Best is null || problem.Stints.Count <= TinyWeekStints || problem.Goals.Count == 1 ? 1 : CloseShare;
            infeasible = CpSearch.Solve(problem, incumbent, childBudget, childBudget.Remaining * share) == CpSearchStatus.Infeasible;
            if (share == 1 && !infeasible && !childBudget.Spent && !incumbent.GapClosed) infeasible = RaiseBounds(childBudget, 1);
            if (share == 1 || infeasible || childBudget.Spent || incumbent.GapClosed) return;
        }
        // A plan that is better in a goal holds those after it to less: they are proven anew before the end.
        if (IsSmallWeek || problem.Facts is not null || childBudget.Workers > 1)
            LargeNeighbourhoodSearch.Improve(problem, incumbent, childBudget, childBudget.Remaining * ImproveShareBeforeLastProof);
        else RunSecondSearch(childBudget, childBudget.Remaining * ImproveShareBeforeLastProof);
        infeasible = RaiseBounds(childBudget, 1);
        if (!infeasible && !childBudget.Spent && !incumbent.GapClosed) LargeNeighbourhoodSearch.Improve(problem, incumbent, childBudget, childBudget.Remaining);
    }

    /// <summary>
    /// What is proven has come to a stand and the week is not small: ruining goes on from the best plan in a second place, which
    /// then betters it more than exact models of its parts do.
    /// </summary>
    private void RunSecondSearch(Budget childBudget, double allowance)
    {
        var own = childBudget.CreateChild(allowance);
        new HeuristicSearch(problem, incumbent, own, asSecondSearch: true).Improve();
        childBudget.Charge(own.Used);
    }

    private bool RaiseBounds(Budget childBudget, double share)
    {
        var relaxing = childBudget.CreateChild(childBudget.Remaining * share);
        var impossible = lowerBounds.Prove(relaxing);
        childBudget.Charge(relaxing.Used);
        return impossible;
    }
}
