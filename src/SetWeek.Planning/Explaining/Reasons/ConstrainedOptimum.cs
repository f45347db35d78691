using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>The lexicographically best plan that meets an extra condition.</summary>
/// <param name="Schedule">The best plan found; null if none was found.</param>
/// <param name="Proven">True if no better plan exists. Without a plan: true if no plan meets the condition.</param>
internal sealed record ConstrainedOptimum(Schedule? Schedule, bool Proven)
{
    /// <summary>Solves the CP-SAT model with the condition, one goal after another.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="freeVariables">The variables that are free; null: all. The others are fixed.</param>
    /// <param name="condition">
    /// Posts the condition. It is posted after the rules, because rules treat variables that are already fixed as facts and
    /// excuse their breaches.
    /// </param>
    /// <param name="knownSchedules">Plans that are known to meet the condition; may be empty.</param>
    /// <param name="budget">The budget of all solves together.</param>
    public static ConstrainedOptimum Of(
        Problem problem, FreeVariables? freeVariables, Action<CpWeekModel> condition, IEnumerable<Schedule> knownSchedules,
        Budget budget)
    {
        var incumbent = new Incumbent(problem);
        foreach (var plan in knownSchedules) incumbent.Offer(plan);
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            // Goals are never negative.
            if (incumbent.Values is { } known && known[goal] == 0) continue;
            if (budget.Spent) return new ConstrainedOptimum(incumbent.Best, false);
            var model = new CpWeekModel(problem, freeVariables).With(AllRules.InOrder);
            condition(model);
            var term = CpSearch.PostGoalsWithCaps(model, goal, incumbent.Best is null ? [] : incumbent.CapsFor(goal))[goal];
            if (!term.IsExact) return new ConstrainedOptimum(incumbent.Best, false);
            if (incumbent.Values is { } values) model.AtMost(term.Sum, values[goal] * term.Divisor);
            model.Cp.Minimize(term.Sum);
            // Only feasible hints: presolve may crash while it repairs an infeasible one (docs/decisions/messages.md).
            if (incumbent.Best is { } feasible) model.Hint(feasible);
            var run = new CpRun(model, incumbent, budget);
            var status = run.Run(budget.Remaining, budget.Workers);
            // Infeasibility needs a second proof with other parameters: solvers have reported it wrongly before.
            if (status == SolverStatus.Infeasible && !model.Infeasible)
                status = run.Run(budget.Remaining, budget.Workers, "linearization_level:0");
            if (status == SolverStatus.Infeasible) return new ConstrainedOptimum(incumbent.Best, incumbent.Best is null);
            if (status != SolverStatus.Solved || incumbent.Best is null) return new ConstrainedOptimum(incumbent.Best, false);
        }
        return new ConstrainedOptimum(incumbent.Best, incumbent.Best is not null);
    }
}
