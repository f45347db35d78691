using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>The best plan under a condition, goal by goal.</summary>
/// <param name="Schedule">Null where none was found.</param>
/// <param name="Proven">There is no better one; without a plan: there is none at all.</param>
internal sealed record ConstrainedOptimum(Schedule? Schedule, bool Proven)
{
    /// <param name="problem">What is planned.</param>
    /// <param name="freeVariables">What of it may be decided; null: everything.</param>
    /// <param name="condition">Posted after the rules: what they see as given they take for a fact, and excuse.</param>
    /// <param name="knownSchedules">Plans that meet the condition, as far as some are known.</param>
    /// <param name="budget">What may be used.</param>
    public static ConstrainedOptimum Of(
        Problem problem, FreeVariables? freeVariables, Action<CpWeekModel> condition, IEnumerable<Schedule> knownSchedules, Budget budget)
    {
        var incumbent = new Incumbent(problem);
        foreach (var plan in knownSchedules) incumbent.Offer(plan);
        for (var goal = 0; goal < problem.Goals.Count; goal++)
        {
            // Nothing is smaller than 0.
            if (incumbent.Values is { } so && so[goal] == 0) continue;
            if (budget.Spent) return new ConstrainedOptimum(incumbent.Best, false);
            var model = new CpWeekModel(problem, freeVariables).With(AllRules.InOrder);
            condition(model);
            var term = CpSearch.PostGoalsWithCaps(model, goal, incumbent.Best is null ? [] : incumbent.CapsFor(goal))[goal];
            if (!term.IsExact) return new ConstrainedOptimum(incumbent.Best, false);
            if (incumbent.Values is { } values) model.AtMost(term.Sum, values[goal] * term.Divisor);
            model.Cp.Minimize(term.Sum);
            // Only a plan that meets the condition: hints that presolve has to mend are known to end the process now and then.
            if (incumbent.Best is { } met) model.Hint(met);
            var run = new CpRun(model, incumbent, budget);
            var ending = run.Run(budget.Remaining, budget.Workers);
            // No is said only where it was said twice: solvers have said it in error.
            if (ending == SolverStatus.Infeasible && !model.Infeasible)
                ending = run.Run(budget.Remaining, budget.Workers, "linearization_level:0");
            if (ending == SolverStatus.Infeasible) return new ConstrainedOptimum(incumbent.Best, incumbent.Best is null);
            if (ending != SolverStatus.Solved || incumbent.Best is null) return new ConstrainedOptimum(incumbent.Best, false);
        }
        return new ConstrainedOptimum(incumbent.Best, incumbent.Best is not null);
    }
}
