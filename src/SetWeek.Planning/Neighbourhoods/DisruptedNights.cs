using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>
/// Looks for the re-plan with the fewest changes near the published plan: the exact model frees the nights in which that plan
/// now breaks a rule, and up to two more. All other nights stay as published.
/// </summary>
internal sealed class DisruptedNights
{
    /// <summary>Most nights that are freed beside the disrupted ones. With more of them the model is slow.</summary>
    private const int MaxMoreNights = 2;

    /// <summary>
    /// Share of the remaining allowance that one set of nights gets at most. Most sets are refuted in a small part of it.
    /// </summary>
    private const double SetShare = 0.75;

    /// <summary>Effort charged for each set besides the solve: building the model takes time too.</summary>
    private const double EffortPerSet = 0.02;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly int goal;
    private readonly Schedule published;
    private readonly bool[] disrupted;

    private DisruptedNights(Problem problem, Incumbent incumbent, Budget budget)
    {
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        goal = problem.PositionOf(GoalId.Changes);
        published = problem.Facts!.PublishedWithActuals;
        disrupted = NightsOf(AllRules.InOrder.SelectMany(rule => rule.Check(problem, published)));
    }

    /// <summary>
    /// Offers every better plan that it finds. Returns at once if this is no re-plan with the goal changes, or if the published
    /// plan still keeps the rules.
    /// </summary>
    /// <param name="problem">The problem.</param>
    /// <param name="incumbent">Receives the plans. It may have none yet.</param>
    /// <param name="budget">Budget to charge.</param>
    /// <param name="allowance">Seconds or units of effort at most.</param>
    public static void Improve(Problem problem, Incumbent incumbent, Budget budget, double allowance)
    {
        if (problem.Facts is not null && problem.PositionOf(GoalId.Changes) >= 0)
            new DisruptedNights(problem, incumbent, budget).Run(budget.Remaining - allowance);
    }

    private void Run(double end)
    {
        if (!disrupted.Contains(true)) return;
        foreach (var free in Enumerable.Range(0, MaxMoreNights + 1).SelectMany(SetsWith))
        {
            if (budget.Spent || budget.Remaining <= end || IsAtBound) return;
            if (IsImprovedBy(free, (budget.Remaining - end) * SetShare)) return;
        }
    }

    private bool IsAtBound => incumbent.Values is { } values && values[goal] <= incumbent.Bounds()[goal];

    /// <summary>The disrupted nights with so many others that are not over, near ones first.</summary>
    private IEnumerable<bool[]> SetsWith(int count)
    {
        int[] others = [.. Enumerable.Range(0, disrupted.Length)
            .Where(night => !disrupted[night] && problem.Nights[night].Closes > problem.Facts!.Now)
            .OrderBy(night => Enumerable.Range(0, disrupted.Length).Where(at => disrupted[at]).Min(at => Math.Abs(at - night)))];
        return Subsets(others, count).Select(chosen =>
            disrupted.Select((isDisrupted, night) => isDisrupted || chosen.Contains(night)).ToArray());
    }

    private static IEnumerable<int[]> Subsets(int[] items, int count) => count == 0 ? [[]]
        : items.SelectMany((last, at) => Subsets(items[..at], count - 1).Select(first => (int[])[.. first, last]));

    /// <summary>Minimises the changes while all other nights stay as published. True if it found a better plan.</summary>
    private bool IsImprovedBy(bool[] nights, double allowance)
    {
        budget.Charge(EffortPerSet);
        var model = new CpWeekModel(problem, Neighbourhood.Nights(problem, published, nights)).With(AllRules.InOrder);
        if (incumbent.Values is { } values)
        {
            var term = CpSearch.PostGoalsWithCaps(model, goal, incumbent.CapsFor(goal))[goal];
            model.AtMost(term.Sum, (values[goal] - 1) * term.Divisor);
            model.Cp.Minimize(term.Sum);
        }
        else model.Cp.Minimize(ChangesObjective.Post(model).Sum);
        model.Hint(published);
        var run = new CpRun(model, incumbent, budget);
        run.Run(allowance, 1, CpRun.NoLinearRelaxation);
        return run.Improved;
    }

    /// <summary>The nights that breaches name, or in which the tasks that they name are published.</summary>
    private bool[] NightsOf(IEnumerable<Breach> breaches)
    {
        var marks = new bool[problem.Nights.Count];
        foreach (var breach in breaches.Where(breach => !breach.IsUnavoidable))
        {
            foreach (var night in problem.Nights) marks[night.Index] |= night.Id == breach.About.Night;
            if (breach.About is { Night: null, Task: { } task })
                foreach (var work in published.Work)
                    if (work.Stint is { } stint && problem.Stints[stint].Task.Id == task) marks[work.Night] = true;
        }
        foreach (var night in problem.Nights) marks[night.Index] &= night.Closes > problem.Facts!.Now;
        return marks;
    }
}
