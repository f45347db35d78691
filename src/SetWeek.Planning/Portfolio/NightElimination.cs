using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Portfolio;

/// <summary>
/// One night fewer, and again: a search bettering a plan step by step hardly ever empties its last night, for on the way there
/// all is worse, and the number of nights does not say that it is nearly empty. So the minutes worked beyond the night before
/// are bettered, whatever that costs; then what is still there is taken out, and room made for it in the nights that stay.
/// </summary>
internal sealed class NightElimination(Problem problem, Incumbent incumbent, Budget budget)
{
    /// <summary>Of what is left, the shares of searches, each with its own chance: a longer one cools more slowly.</summary>
    private static readonly double[] AttemptShares = [0.45, 1];

    /// <summary>
    /// Until so much of a search is gone, a plan from nothing, which packs more into early nights, may find room for all that is
    /// wanted.
    /// </summary>
    private const double FindRoomUntil = 0.2;

    /// <summary>Until so much of it is gone, all work is kept in the plan; then what is beyond is fitted in.</summary>
    private const double EmptyNightsUntil = 0.75;

    /// <summary>How many minutes more may lie beyond, about, and be gone on with: at the beginning and at the end.</summary>
    private const double InitialTemperature = 8, FinalTemperature = 1;

    private readonly int nightsGoal = Enumerable.Range(0, problem.Goals.Count)
        .FirstOrDefault(at => problem.Goals[at].Goal == GoalId.Nights, -1);

    /// <summary>Looks until so many seconds, or units, are gone, the fewest are proven or no shorter week was found.</summary>
    public void Run(double allowance)
    {
        if (nightsGoal < 0 || problem.Facts is not null) return;
        var end = budget.Remaining - allowance;
        while (!budget.Spent && budget.Remaining > end && incumbent.Values?[nightsGoal] is { } nights && nights > 1
            && nights > incumbent.Bounds()[nightsGoal] && TryWith((int)nights - 1, budget.Remaining - end)) { }
    }

    /// <summary>True where there is a plan now with so few nights that is no worse in the goals above.</summary>
    private bool TryWith(int nights, double allowance)
    {
        var end = budget.Remaining - allowance;
        var (longer, shorter) = (Problem.Of(TruncatedTo(nights + 1)), Problem.Of(TruncatedTo(nights)));
        if (RootPropagation.Of(shorter).Infeasible) incumbent.RecordBound(incumbent.CapsFor(nightsGoal), nights + 1);
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        for (var turn = 0; turn < AttemptShares.Length && !Over() && !budget.Spent && budget.Remaining > end; turn++)
        {
            var part = budget.CreateIndependent((budget.Remaining - end) * AttemptShares[turn], ending.Token, seedOffset: turn);
            var search = new HeuristicSearch(longer, Told(longer), part, lateWork: LateWorkCriterion.ForNights(longer, nights));
            if (!search.FindFirst(leftOutUntil: FindRoomUntil, nightsGoal, incumbent.Values!)) search.StartFrom(incumbent.Best!);
            search.ImproveGoal(nightsGoal, InitialTemperature, FinalTemperature, EmptyNightsUntil, Over);
            // What is left beyond is taken out, and room made for it in what is there.
            if (!Over()) new HeuristicSearch(shorter, Told(shorter), part).CompletePart(FirstNightsOf(search.Best, nights), 1);
            budget.Charge(part.Used);
        }
        return incumbent.Values![nightsGoal] <= nights;

        bool Over() => incumbent.Values![nightsGoal] <= nights || incumbent.Bounds()[nightsGoal] > nights;

        // People, nights and stints are numbered alike in all three.
        Incumbent Told(Problem week) => new(week, (schedule, _) =>
        {
            incumbent.Offer(schedule);
            if (Over()) ending.Cancel();
        });
    }

    private Schedule FirstNightsOf(Schedule schedule, int nights) => new()
    {
        Work = [.. schedule.Work.Where(work => work.Night < nights
            && (work.Stint is not { } stint || !problem.Stints[stint].Task.IsLastTask))],
        Shifts = [.. schedule.Shifts.Where(shift => shift.Night < nights)],
        Keyholders = [.. schedule.Keyholders.Select((keyholder, night) => night < nights ? keyholder : null)],
    };

    private Week TruncatedTo(int nights) => TruncatedWeek.AfterNights(problem.Week, problem, nights) with
    {
        // Money is among the goals: without it a search packs no better than chance.
        Goals = [.. problem.Week.Goals.Take(nightsGoal + 1), .. problem.Week.Goals.Take(nightsGoal).Any(choice => choice.Goal == GoalId.Cost)
            ? [] : new[] { new GoalChoice(GoalId.Cost) }],
    };
}
