using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Exact;

/// <summary>How the exact search ended.</summary>
internal enum CpSearchStatus
{
    /// <summary>Every goal is at its bound: the incumbent is optimal.</summary>
    GapClosed,

    /// <summary>No plan keeps the rules (proven).</summary>
    Infeasible,

    /// <summary>Neither is proven: the budget is spent, or a goal has no exact expression.</summary>
    Inconclusive,
}

/// <summary>Lexicographic optimisation with the exact model: one solve for each goal, with caps on the goals above it.</summary>
internal static class CpSearch
{
    /// <summary>Solves goal by goal until one cannot be settled.</summary>
    /// <param name="problem">The problem to solve.</param>
    /// <param name="incumbent">Receives every plan found and every bound proven.</param>
    /// <param name="budget">Budget to charge.</param>
    /// <param name="allowance">Seconds or units of effort at most.</param>
    public static CpSearchStatus Solve(Problem problem, Incumbent incumbent, Budget budget, double allowance = double.MaxValue)
    {
        var end = budget.Remaining - allowance;
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            if (incumbent.Values is { } values && values[goal] <= problem.Goals[goal].LargestAllowed(incumbent.Bounds()[goal]))
                continue;
            if (budget.Spent || budget.Remaining <= end) return CpSearchStatus.Inconclusive;
            if (OptimiseGoal(problem, incumbent, budget, goal, budget.Remaining - end) is { } ending) return ending;
        }
        return incumbent.GapClosed ? CpSearchStatus.GapClosed : CpSearchStatus.Inconclusive;
    }

    /// <summary>Minimises one goal. Null where its optimum is proven and the search continues with the next goal.</summary>
    private static CpSearchStatus? OptimiseGoal(Problem problem, Incumbent incumbent, Budget budget, int goal, double allowance)
    {
        var caps = incumbent.Best is null ? [] : incumbent.CapsFor(goal);
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var terms = PostGoalsWithCaps(model, goal, caps);
        // The model cannot settle this goal. It still settles whether there is a plan, and the bounds of the goals below it.
        if (!terms[goal].IsExact && incumbent.Best is not null) return null;
        model.Cp.Minimize(terms[goal].Sum);
        if (incumbent is { Best: { } best, Values: { } values })
        {
            model.Hint(best);
            model.AtMost(terms[goal].Sum, values[goal] * terms[goal].Divisor);
        }
        var run = new CpRun(model, incumbent, budget);
        var ending = run.Run(allowance, budget.Workers);
        // The solver has reported feasible models as infeasible before. A second solve with other parameters has to confirm it.
        if (ending == SolverStatus.Infeasible && !model.Infeasible)
            ending = run.Run(allowance, budget.Workers, "linearization_level:0");
        if (ending == SolverStatus.Infeasible)
            return goal == 0 && incumbent.Best is null ? CpSearchStatus.Infeasible : CpSearchStatus.Inconclusive;
        if (double.IsFinite(run.Bound)) incumbent.RecordBound(caps, terms[goal].ValueAt(run.Bound));
        return ending == SolverStatus.Solved ? null : CpSearchStatus.Inconclusive;
    }

    /// <summary>Posts the goals up to the given one, with caps on those above it. Returns their expressions in order.</summary>
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
}
