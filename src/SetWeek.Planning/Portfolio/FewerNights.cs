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
internal sealed class FewerNights(Problem problem, Incumbent incumbent, Budget budget)
{
    /// <summary>Of what is left, the shares of searches, each with its own chance: a longer one cools more slowly.</summary>
    private static readonly double[] Turns = [0.45, 1];

    /// <summary>
    /// Until so much of a search is gone, a plan from nothing, which packs more into early nights, may find room for all that is
    /// wanted.
    /// </summary>
    private const double ToFindRoom = 0.2;

    /// <summary>Until so much of it is gone, all work is kept in the plan; then what is beyond is fitted in.</summary>
    private const double ToDrain = 0.75;

    /// <summary>How many minutes more may lie beyond, about, and be gone on with: at the beginning and at the end.</summary>
    private const double Hottest = 8, Coldest = 1;

    private readonly int goal = Enumerable.Range(0, problem.Goals.Count)
        .FirstOrDefault(at => problem.Goals[at].Goal == "nights", -1);

    /// <summary>Looks until so many seconds, or units, are gone, the fewest are proven or no shorter week was found.</summary>
    public void Look(double most)
    {
        if (goal < 0 || problem.Facts is not null) return;
        var end = budget.Left - most;
        while (!budget.Spent && budget.Left > end && incumbent.Values?[goal] is { } nights && nights > 1
            && nights > incumbent.Bounds()[goal] && Shorter((int)nights - 1, budget.Left - end)) { }
    }

    /// <summary>True where there is a plan now with so few nights that is no worse in the goals above.</summary>
    private bool Shorter(int nights, double most)
    {
        var end = budget.Left - most;
        var (longer, shorter) = (Problem.Of(Within(nights + 1)), Problem.Of(Within(nights)));
        if (Certificates.Of(shorter).Impossible) incumbent.Prove(incumbent.CapsFor(goal), nights + 1);
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        for (var turn = 0; turn < Turns.Length && !Over() && !budget.Spent && budget.Left > end; turn++)
        {
            var part = budget.Anew((budget.Left - end) * Turns[turn], ending.Token, otherwise: turn);
            var search = new GenerationSearch(longer, Told(longer), part, drain: Drain.After(longer, nights));
            if (!search.FindFirst(wants: ToFindRoom, goal, incumbent.Values!)) search.GoOnFrom(incumbent.Best!);
            search.BetterOne(goal, Hottest, Coldest, ToDrain, Over);
            // What is left beyond is taken out, and room made for it in what is there.
            if (!Over()) new GenerationSearch(shorter, Told(shorter), part).FitInto(Early(search.Best, nights), 1);
            budget.Use(part.Used);
        }
        return incumbent.Values![goal] <= nights;

        bool Over() => incumbent.Values![goal] <= nights || incumbent.Bounds()[goal] > nights;

        // People, nights and stints are numbered alike in all three.
        Incumbent Told(Problem week) => new(week, (schedule, _) =>
        {
            incumbent.Offer(schedule);
            if (Over()) ending.Cancel();
        });
    }

    private Schedule Early(Schedule plan, int nights) => new()
    {
        Work = [.. plan.Work.Where(work => work.Night < nights
            && (work.Stint is not { } stint || !problem.Stints[stint].Task.Last))],
        Shifts = [.. plan.Shifts.Where(shift => shift.Night < nights)],
        Keyholders = [.. plan.Keyholders.Select((keyholder, night) => night < nights ? keyholder : null)],
    };

    private Week Within(int nights) => Shortened.ToNights(problem.Week, problem, nights) with
    {
        // Money is among the goals: without it a search packs no better than chance.
        Goals = [.. problem.Week.Goals.Take(goal + 1), .. problem.Week.Goals.Take(goal).Any(choice => choice.Goal == "cost")
            ? [] : new[] { new GoalChoice("cost") }],
    };
}
