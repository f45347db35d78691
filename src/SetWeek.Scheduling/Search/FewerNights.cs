using SetWeek.Scheduling.Search.Generation;

namespace SetWeek.Scheduling.Search;

/// <summary>
/// One night fewer, and again: a search bettering a plan step by step hardly ever empties its last night, for on the way there all
/// is worse. So the week is planned anew without it - nobody is available - for the goals above, and what comes of it is offered.
/// </summary>
internal sealed class FewerNights(Problem problem, Incumbent incumbent, Budget budget)
{
    /// <summary>Searches that begin anew, each with its own chance, in the time for one week.</summary>
    private const int Turns = 4;

    private readonly int goal = Enumerable.Range(0, problem.Goals.Count)
        .FirstOrDefault(at => problem.Goals[at].Goal == "nights", -1);

    /// <summary>Looks until so many seconds, or units, are gone, the fewest are proven or a shorter week shows no plan as good.</summary>
    public void Look(double most)
    {
        if (goal < 0 || problem.Facts is not null || budget.SchedulesLeft < long.MaxValue) return;
        var end = budget.Left - most;
        while (!budget.Spent && budget.Left > end && incumbent.Values?[goal] is { } nights && nights > 1
            && nights > incumbent.Bounds()[goal] && Shorter((int)nights - 1, budget.Left - end)) { }
    }

    /// <summary>True where there is a plan now with so few nights that is as good as can be in the goals above.</summary>
    private bool Shorter(int nights, double most)
    {
        using var ending = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        var shorter = Problem.Of(Without(nights));
        var end = budget.Left - most;
        // What fits in last is luck: a search that has not found it soon finds it late, and another begins elsewhere.
        for (var turn = 0; turn < Turns && !Enough() && !budget.Spent && budget.Left > end; turn++)
        {
            var part = budget.Anew((budget.Left - end) / (Turns - turn), ending.Token, otherwise: turn);
            var found = new Incumbent(shorter, (schedule, _) =>
            {
                // People, nights and stints are numbered alike in both.
                incumbent.Offer(schedule);
                if (Enough()) ending.Cancel();
            });
            var search = new GenerationSearch(shorter, found, part);
            if (search.FindFirst() || search.Find()) search.Improve(roomShare: 0.7);
            budget.Use(part.Used);
        }
        return Enough();

        bool Enough() => incumbent.Values is { } values && values[goal] <= nights
            && incumbent.Bounds().Take(goal).Zip(values).All(pair => pair.Second <= pair.First);
    }

    private Week Without(int nights) => Shortened.To(problem.Week, problem, nights) with
    {
        // A search that has nothing to save packs no better than chance: what is left out fits in once the rest is dear to it.
        Goals = [.. problem.Week.Goals.Take(goal), .. problem.Week.Goals.Take(goal).Any(choice => choice.Goal == "cost")
            ? [] : new[] { new GoalChoice("cost") }],
    };
}
