using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Exact;

/// <summary>How far the exact search came.</summary>
internal enum ExactEnding
{
    /// <summary>Every goal is at its bound.</summary>
    Closed,

    /// <summary>Proven: no plan keeps the rules.</summary>
    NoPlan,

    /// <summary>Out of time, effort or patience.</summary>
    Open,
}

/// <summary>The exact model solved goal by goal, those above held to what they may be.</summary>
internal static class ExactSearch
{
    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Given every plan found and every bound proven.</param>
    /// <param name="budget">What may be used of time or effort.</param>
    /// <param name="most">Seconds, or units of effort, at most.</param>
    public static ExactEnding Solve(Problem problem, Incumbent incumbent, Budget budget, double most = double.MaxValue)
    {
        var end = budget.Left - most;
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            if (incumbent.Values is { } values && AtBound(problem, goal, values[goal], incumbent.Bounds()[goal])) continue;
            if (budget.Spent || budget.Left <= end) return ExactEnding.Open;
            if (Stage(problem, incumbent, budget, goal, budget.Left - end) is { } ending) return ending;
        }
        return incumbent.Closed ? ExactEnding.Closed : ExactEnding.Open;
    }

    /// <summary>Null where the goal is settled and the next one may be looked at.</summary>
    private static ExactEnding? Stage(Problem problem, Incumbent incumbent, Budget budget, int goal, double most)
    {
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        var model = new ExactModel(problem).With(AllRules.InOrder);
        var terms = Capped(model, goal, caps);
        if (!terms[goal].Exact) return ExactEnding.Open;
        model.Cp.Minimize(terms[goal].Sum);
        if (incumbent is { Best: { } best, Values: { } values })
        {
            model.Hint(best);
            model.AtMost(terms[goal].Sum, values[goal] * terms[goal].Per);
        }
        var run = new ExactRun(model, incumbent, budget);
        var ending = run.Run(most, budget.Workers);
        // No plan is a grave thing to say, and solvers have said it in error: it is asked again another way.
        if (ending == RunEnding.Impossible && !model.Impossible) ending = run.Run(most, budget.Workers, "linearization_level:0");
        if (ending == RunEnding.Impossible) return goal == 0 && incumbent.Best is null ? ExactEnding.NoPlan : ExactEnding.Open;
        if (double.IsFinite(run.Bound)) incumbent.Prove(caps, terms[goal].Of(run.Bound));
        return ending == RunEnding.Proven ? null : ExactEnding.Open;
    }

    /// <summary>The goals up to one of them, posted, and those above it held to their caps.</summary>
    public static GoalTerm[] Capped(ExactModel model, int goal, ReadOnlySpan<long> caps)
    {
        var terms = new GoalTerm[goal + 1];
        for (var above = 0; above <= goal; above++)
        {
            terms[above] = GoalObjectives.Post(model.Problem.Goals[above].Goal, model);
            if (above < goal) model.AtMost(terms[above].Sum, caps[above] * terms[above].Per);
        }
        return terms;
    }

    private static bool AtBound(Problem problem, int goal, long value, long bound) =>
        value <= bound + bound * problem.Goals[goal].TolerancePercent / 100;
}
