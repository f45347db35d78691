using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Portfolio;

/// <summary>
/// Shortens a plan one night at a time. Local search rarely empties the last night: each step on the way makes the plan worse,
/// and the number of nights does not show that a night is nearly empty. So this search minimises the minutes worked after a
/// given night, at any cost. Then it removes the work that is still there and inserts it into the remaining nights.
/// </summary>
internal sealed class NightElimination(Problem problem, Incumbent incumbent, Budget budget)
{
    // Parameters of the search. Shares of an attempt are shares of that attempt's own budget.

    /// <summary>
    /// By attempt: its share of what remains. Each attempt has its own seed. A longer attempt cools more slowly.
    /// </summary>
    private static readonly double[] AttemptShares = [0.45, 1];

    /// <summary>
    /// Share of an attempt until which a plan built from nothing is completed with the displays that it left out. Such a plan
    /// packs more into the early nights than the incumbent does.
    /// </summary>
    private const double FindRoomUntil = 0.2;

    /// <summary>
    /// Share of an attempt until which all work stays in the plan while its late minutes are minimised. After that, the late
    /// work is inserted into the remaining nights.
    /// </summary>
    private const double EmptyNightsUntil = 0.75;

    /// <summary>
    /// Temperatures of the annealing at its start and end, in person-minutes of late work: about how much worse a plan may be
    /// and still be accepted.
    /// </summary>
    private const double InitialTemperature = 8, FinalTemperature = 1;

    private readonly int nightsGoal = Enumerable.Range(0, problem.Goals.Count)
        .FirstOrDefault(at => problem.Goals[at].Goal == GoalId.Nights, -1);

    /// <summary>
    /// Runs until the allowance is spent, the number of nights is proven minimal, or no plan with one night fewer was found.
    /// Does nothing in a re-plan, or where the number of nights is no goal.
    /// </summary>
    /// <param name="allowance">Seconds or units of effort.</param>
    public void Run(double allowance)
    {
        if (nightsGoal < 0 || problem.Facts is not null) return;
        var end = budget.Remaining - allowance;
        while (!budget.Spent && budget.Remaining > end && incumbent.Values?[nightsGoal] is { } nights && nights > 1
            && nights > incumbent.Bounds()[nightsGoal] && TryWith((int)nights - 1, budget.Remaining - end)) { }
    }

    /// <summary>
    /// Searches for a plan that uses at most the given number of nights. Returns true if the incumbent is such a plan afterwards.
    /// </summary>
    private bool TryWith(int nights, double allowance)
    {
        var end = budget.Remaining - allowance;
        var (longer, shorter) = (Problem.Of(TruncatedTo(nights + 1)), Problem.Of(TruncatedTo(nights)));
        if (RootPropagation.Of(shorter).Infeasible) incumbent.RecordBound(incumbent.CapsFor(nightsGoal), nights + 1);
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        for (var attempt = 0;
            attempt < AttemptShares.Length && !IsDecided() && !budget.Spent && budget.Remaining > end; attempt++)
        {
            var attemptBudget = budget.CreateIndependent(
                (budget.Remaining - end) * AttemptShares[attempt], ending.Token, seedOffset: attempt);
            var search = new HeuristicSearch(
                longer, ForwardingIncumbent(longer), attemptBudget, lateWork: LateWorkCriterion.ForNights(longer, nights));
            if (!search.FindFirst(leftOutUntil: FindRoomUntil, nightsGoal, incumbent.Values!)) search.StartFrom(incumbent.Best!);
            search.ImproveGoal(nightsGoal, InitialTemperature, FinalTemperature, EmptyNightsUntil, IsDecided);
            // The plan without its late work is completed inside the shorter week.
            if (!IsDecided())
                new HeuristicSearch(shorter, ForwardingIncumbent(shorter), attemptBudget)
                    .CompletePart(FirstNightsOf(search.Best, nights), 1);
            budget.Charge(attemptBudget.Used);
        }
        return incumbent.Values![nightsGoal] <= nights;

        // A plan with so few nights is found, or proven impossible.
        bool IsDecided() => incumbent.Values![nightsGoal] <= nights || incumbent.Bounds()[nightsGoal] > nights;

        // A plan of a truncated week is a plan of the week itself: people, nights and stints have the same indexes.
        Incumbent ForwardingIncumbent(Problem truncated) => new(truncated, (schedule, _) =>
        {
            incumbent.Offer(schedule);
            if (IsDecided()) ending.Cancel();
        });
    }

    /// <summary>The part of a schedule in its first nights, without the last task, which has to be placed anew.</summary>
    private Schedule FirstNightsOf(Schedule schedule, int nights) => new()
    {
        Work = [.. schedule.Work.Where(work => work.Night < nights
            && (work.Stint is not { } stint || !problem.Stints[stint].Task.IsLastTask))],
        Shifts = [.. schedule.Shifts.Where(shift => shift.Night < nights)],
        Keyholders = [.. schedule.Keyholders.Select((keyholder, night) => night < nights ? keyholder : null)],
    };

    private Week TruncatedTo(int nights) => TruncatedWeek.AfterNights(problem.Week, problem, nights) with
    {
        // Cost is always among the goals: without it the search does not pack work tightly.
        Goals =
        [
            .. problem.Week.Goals.Take(nightsGoal + 1),
            .. problem.Week.Goals.Take(nightsGoal).Any(choice => choice.Goal == GoalId.Cost)
                ? [] : new[] { new GoalChoice(GoalId.Cost) },
        ],
    };
}
