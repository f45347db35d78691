using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// How many nights it takes, asked one by one: is there a plan of the week that is over after its k-th night? All that is known
/// of a week is worked out anew for it: with later nights gone, windows are narrower and what is left is a question of room.
/// Where certificates say no, or the night master has no solution, or, for a small week, the exact model, no plan whose goals
/// above are within their caps does with k nights either.
/// </summary>
internal sealed class FewestNights(Problem problem, Certificates known, Incumbent incumbent, int goal)
{
    /// <summary>Stints up to which the exact model is asked as well.</summary>
    private const int Small = 70;

    /// <param name="caps">What the goals above are held to.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="most">Seconds, or units of effort, for all questions together.</param>
    public void Raise(long[] caps, Budget budget, double most)
    {
        var end = budget.Left - most;
        for (var nights = (int)incumbent.Bounds()[goal]; !Reached && budget.Left > end; nights++)
        {
            if (!TooFew(nights, caps, budget, end)) return;
            incumbent.Prove(caps, nights + 1);
        }
    }

    private bool Reached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    private bool TooFew(int nights, long[] caps, Budget budget, double end)
    {
        // In a re-plan facts may lie after the k-th night, so there the week stays as long as it is.
        var whole = nights == 0 || problem.Facts is not null;
        var shorter = whole ? problem : Problem.Of(Shortened.ToNights(problem.Week, problem, nights));
        var certified = whole ? known : Certificates.Of(shorter);
        if (!whole && (certified.Impossible
            || caps.Where((cap, above) => certified.Bound(problem.Goals[above].Goal) > cap).Any())) return true;
        var master = new NightMaster(shorter, certified);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        master.Cap("nights", nights);
        var ending = new RowSolver(master.Rows, budget).Minimise(new Sum(), budget.Left - end, _ => { }, () => Reached);
        if (ending == RowSolver.Ending.Infeasible) return true;
        return !whole && ending == RowSolver.Ending.Solved && problem.Stints.Count <= Small && NoPlan(shorter, caps, budget, end);
    }

    /// <summary>The exact model has no plan, asked twice, each time in another way. A plan that it finds is offered.</summary>
    private bool NoPlan(Problem shorter, long[] caps, Budget budget, double end)
    {
        var model = new ExactModel(shorter).With(AllRules.InOrder);
        ExactSearch.Capped(model, goal, caps);
        if (model.Impossible) return true;
        var run = new ExactRun(model, incumbent, budget);
        return run.Run(budget.Left - end, 1) == RunEnding.Impossible
            && run.Run(budget.Left - end, 1, "linearization_level:0") == RunEnding.Impossible;
    }
}
