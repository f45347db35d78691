using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Portfolio;

/// <summary>
/// Decides which search runs when, and for how long. With two or more workers one thread improves the plan while the others
/// prove bounds. With one worker both take turns, in a fixed order and with fixed shares of the budget.
/// </summary>
internal sealed class SearchPortfolio(
    Problem problem, RootPropagation propagation, HeuristicSearch generation, Incumbent incumbent, Budget budget)
{
    // Parameters of the portfolio. A "share until" counts from the start of the whole budget; other shares are of what remains.

    /// <summary>
    /// Most stints of a week whose exact model gets all the remaining time of the proof. In larger weeks large neighbourhood
    /// search gains more in that time.
    /// </summary>
    private const int MaxStintsOfTinyWeek = 25;

    /// <summary>
    /// Share of the proof that the exact model of a small week gets after the relaxations. It applies to weeks with a plan and
    /// several goals: the later goals need time for their bounds too.
    /// </summary>
    private const double ExactModelShare = 0.3;

    /// <summary>With one worker: share until which the heuristics improve the plan before the proof begins.</summary>
    private const double ImproveUntil = 0.5;

    /// <summary>The same as <see cref="ImproveUntil"/> for a small week, which gains more from the proof.</summary>
    private const double ImproveSmallWeekUntil = 0.3;

    /// <summary>With one worker: share until which bounds are proven. The heuristics get the rest.</summary>
    private const double ProveUntil = 0.85;

    /// <summary>Where the number of nights is a goal: share until which the plan is improved as it is.</summary>
    private const double ImproveBeforeFewerNightsUntil = 0.1;

    /// <summary>Where the number of nights is a goal: share of the improvement for <see cref="NightElimination"/>.</summary>
    private const double FewerNightsShare = 0.65;

    /// <summary>Share of the proof that the relaxations of a small week get before its exact model.</summary>
    private const double SmallWeekRelaxationShare = 0.3;

    /// <summary>
    /// For a week that is not small (<see cref="WeekSize.IsSmall"/>): share of the proof that the relaxations get first.
    /// </summary>
    private const double RelaxationShare = 0.7;

    /// <summary>The same for a re-plan that is not small, whose bounds come from many short solves.</summary>
    private const double ReplanRelaxationShare = 0.85;

    /// <summary>
    /// Re-plan: share of the budget for plans in which most nights stay as published. With more workers it is that of the thread
    /// that proves bounds.
    /// </summary>
    private const double DisruptedNightsShare = 0.4, DisruptedNightsShareInTurns = 0.2;

    /// <summary>
    /// Share of the rest of the proof that improves the plan, before the bounds are raised a last time.
    /// </summary>
    private const double ImproveShareBeforeLastProof = 0.6;

    private readonly LowerBoundSearch lowerBounds = new(problem, propagation, incumbent);
    private bool infeasible;

    private bool IsSmallWeek => WeekSize.IsSmall(problem);

    private bool IsTinyWeek => problem.Stints.Count <= MaxStintsOfTinyWeek;

    /// <summary>
    /// Searches until the budget is spent or the incumbent is proven optimal. True where the week is proven to have no plan.
    /// </summary>
    /// <param name="cancel">Cancels the budget of this search.</param>
    public bool Run(Action cancel)
    {
        if (propagation.Infeasible && incumbent.Best is null) return true;
        if (budget.Workers > 1) RunInParallel(cancel);
        else RunInTurns();
        return infeasible && incumbent.Best is null;
    }

    private void RunInTurns()
    {
        DisruptedNights.Improve(problem, incumbent, budget, budget.Remaining * DisruptedNightsShareInTurns);
        if (!IsTinyWeek) Improve(IsSmallWeek ? ImproveSmallWeekUntil : ImproveUntil);
        if (budget.Spent) return;
        var proofBudget = budget.CreateChild((ProveUntil - budget.SpentShare) * budget.Remaining / (1 - budget.SpentShare));
        Prove(proofBudget);
        budget.Charge(proofBudget.Used);
        if (!infeasible) generation.Improve();
    }

    /// <summary>An exception on either thread cancels the other and is rethrown here.</summary>
    private void RunInParallel(Action cancel)
    {
        var fault = new ThreadFault();
        var prover = new Thread(() => fault.Guard(() =>
        {
            var proofBudget = budget.CreateChild(budget.Remaining, budget.Workers - 1);
            DisruptedNights.Improve(problem, incumbent, proofBudget, proofBudget.Remaining * DisruptedNightsShare);
            Prove(proofBudget);
            if (infeasible) cancel();
        }, cancel));
        prover.Start();
        fault.Guard(() => Improve(1), cancel);
        prover.Join();
        fault.Rethrow();
    }

    /// <summary>
    /// Where the number of nights is a goal: improves the plan briefly, so that displays left out get a place first; then looks
    /// for plans with fewer nights. The rest of the share goes to the plan found.
    /// </summary>
    /// <param name="untilShare">Share of the whole budget at which the improvement ends.</param>
    private void Improve(double untilShare)
    {
        if (problem.Facts is null && problem.PositionOf(GoalId.Nights) >= 0)
        {
            generation.Improve(ImproveBeforeFewerNightsUntil);
            var left = (untilShare - budget.SpentShare) / (1 - budget.SpentShare) * budget.Remaining;
            if (!budget.Spent) new NightElimination(problem, incumbent, budget).Run(left * FewerNightsShare);
        }
        generation.Improve(untilShare);
    }

    /// <summary>
    /// Raises bounds by relaxations first. Then a small week, or a week without a plan, is solved by the exact model. In any
    /// other week, and where the exact model had only a share, the rest of the time improves the plan and raises the bounds
    /// again.
    /// </summary>
    private void Prove(Budget proofBudget)
    {
        infeasible = RaiseBounds(proofBudget, IsSmallWeek ? SmallWeekRelaxationShare
            : problem.Facts is not null ? ReplanRelaxationShare : RelaxationShare);
        if (infeasible || proofBudget.Spent || incumbent.GapClosed) return;
        if (IsSmallWeek || incumbent.Best is null)
        {
            var share = incumbent.Best is null || IsTinyWeek || problem.Goals.Count == 1 ? 1 : ExactModelShare;
            var ending = CpSearch.Solve(problem, incumbent, proofBudget, proofBudget.Remaining * share);
            infeasible = ending == CpSearchStatus.Infeasible;
            if (share == 1 && !infeasible && !proofBudget.Spent && !incumbent.GapClosed) infeasible = RaiseBounds(proofBudget, 1);
            if (share == 1 || infeasible || proofBudget.Spent || incumbent.GapClosed) return;
        }
        // A plan that is better in one goal lowers the caps of the goals below it. Their bounds are raised again afterwards.
        var allowance = proofBudget.Remaining * ImproveShareBeforeLastProof;
        if ((IsSmallWeek || problem.Facts is not null || proofBudget.Workers > 1) && !HoldGoal.IsAtStake(problem))
            LargeNeighbourhoodSearch.Improve(problem, incumbent, proofBudget, allowance);
        else RunSecondSearch(proofBudget, allowance);
        infeasible = RaiseBounds(proofBudget, 1);
        if (!infeasible && !proofBudget.Spent && !incumbent.GapClosed && !HoldGoal.IsAtStake(problem))
            LargeNeighbourhoodSearch.Improve(problem, incumbent, proofBudget, proofBudget.Remaining);
    }

    /// <summary>
    /// Runs a second ruin and recreate from the best plan, beside the first one. In larger weeks this improves the plan more than
    /// large neighbourhood search does in the same time.
    /// </summary>
    private void RunSecondSearch(Budget proofBudget, double allowance)
    {
        var searchBudget = proofBudget.CreateChild(allowance);
        new HeuristicSearch(problem, incumbent, searchBudget, asSecondSearch: true).Improve();
        proofBudget.Charge(searchBudget.Used);
    }

    /// <summary>Runs the relaxations with a share of what remains. True where they prove that there is no plan.</summary>
    private bool RaiseBounds(Budget proofBudget, double share)
    {
        var relaxationBudget = proofBudget.CreateChild(proofBudget.Remaining * share);
        var impossible = lowerBounds.Prove(relaxationBudget);
        proofBudget.Charge(relaxationBudget.Used);
        return impossible;
    }
}
