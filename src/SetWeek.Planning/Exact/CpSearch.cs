using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Exact;

/// <summary>How far the exact search came.</summary>
internal enum CpSearchStatus
{
    /// <summary>Every goal is at its bound.</summary>
    GapClosed,

    /// <summary>Proven: no plan keeps the rules.</summary>
    Infeasible,

    /// <summary>Out of time, effort or patience.</summary>
    Inconclusive,
}

/// <summary>The exact model solved goal by goal, those above held to what they may be.</summary>
internal static class CpSearch
{
    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Given every plan found and every bound proven.</param>
    /// <param name="budget">What may be used of time or effort.</param>
    /// <param name="allowance">Seconds, or units of effort, at most.</param>
    public static CpSearchStatus Solve(Problem problem, Incumbent incumbent, Budget budget, double allowance = double.MaxValue)
    {
        var end = budget.Remaining - allowance;
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            if (incumbent.Values is { } values && AtBound(problem, goal, values[goal], incumbent.Bounds()[goal])) continue;
            if (budget.Spent || budget.Remaining <= end) return CpSearchStatus.Inconclusive;
            if (OptimiseGoal(problem, incumbent, budget, goal, budget.Remaining - end) is { } ending) return ending;
        }
        return incumbent.GapClosed ? CpSearchStatus.GapClosed : CpSearchStatus.Inconclusive;
    }

    /// <summary>Null where the goal is settled and the next one may be looked at.</summary>
    private static CpSearchStatus? OptimiseGoal(Problem problem, Incumbent incumbent, Budget budget, int goal, double allowance)
    {
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var terms = PostGoalsWithCaps(model, goal, caps);
        if (!terms[goal].IsExact) return CpSearchStatus.Inconclusive;
        model.Cp.Minimize(terms[goal].Sum);
        if (incumbent is { Best: { } best, Values: { } values })
        {
            model.Hint(best);
            model.AtMost(terms[goal].Sum, values[goal] * terms[goal].Divisor);
        }
        var run = new CpRun(model, incumbent, budget);
        var ending = run.Run(allowance, budget.Workers);
        // No plan is a grave thing to say, and solvers have said it in error: it is asked again another way.
        if (ending == CpRunStatus.Infeasible && !model.Infeasible) ending = run.Run(allowance, budget.Workers, "linearization_level:0");
        if (ending == CpRunStatus.Infeasible) return goal == 0 && incumbent.Best is null ? CpSearchStatus.Infeasible : CpSearchStatus.Inconclusive;
        if (double.IsFinite(run.Bound)) incumbent.RecordBound(caps, terms[goal].ValueAt(run.Bound));
        return ending == CpRunStatus.Optimal ? null : CpSearchStatus.Inconclusive;
    }

    /// <summary>The goals up to one of them, posted, and those above it held to their caps.</summary>
    public static GoalExpression[] PostGoalsWithCaps(CpWeekModel model, int goal, ReadOnlySpan<long> caps)
    {
        var terms = new GoalExpression[goal + 1];
        for (var above = 0; above <= goal; above++)
        {
            terms[above] = GoalObjectives.Post(model.Problem.Goals[above].Goal, model);
            if (above < goal) model.AtMost(terms[above].Sum, caps[above] * terms[above].Divisor);
        }
        return terms;
    }

    private static bool AtBound(Problem problem, int goal, long value, long bound) =>
        value <= bound + bound * problem.Goals[goal].TolerancePercent / 100;
}
