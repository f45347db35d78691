using Google.OrTools.Sat;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Solves a week with the exact model, goal by goal, to the proven optimum. The checker checks every solution on the way.
/// </summary>
internal static class CpOptimum
{
    private const string SingleWorkerParameters = "num_workers:1 max_deterministic_time:30 cp_model_probing_level:0";

    /// <summary>
    /// The lexicographic optimum: each goal with the goals before it capped at their optimum and tolerance. Null: no plan.
    /// </summary>
    /// <param name="problem">The week or re-plan.</param>
    /// <param name="without">A rule that is left out of the model; then plans are not checked.</param>
    /// <param name="checkPlans">Whether each solution must pass the checker.</param>
    public static long[]? Best(Problem problem, RuleId? without = null, bool checkPlans = true)
    {
        IRule[] rules = [.. AllRules.InOrder.Where(rule => rule.Id != without)];
        var (best, caps) = (new long[problem.Goals.Count], new long[problem.Goals.Count]);
        for (var goal = 0; goal < best.Length; goal++)
        {
            var model = new CpWeekModel(problem).With(rules);
            var term = CpSearch.PostGoalsWithCaps(model, goal, caps.AsSpan(0, goal))[goal];
            model.Cp.Minimize(term.Sum);
            Assert.True(term.IsExact, problem.Goals[goal].Goal.Text());
            if (model.Infeasible) return null;
            using var solver = new CpSolver { StringParameters = SingleWorkerParameters };
            using var callback = new CheckedSolutions(model);
            var status = solver.Solve(model.Cp, callback);
            if (callback.Fault is not null) throw callback.Fault;
            if (status == CpSolverStatus.Infeasible && goal == 0) return null;
            Assert.Equal(CpSolverStatus.Optimal, status);
            best[goal] = term.ValueAt(solver.BestObjectiveBound);
            caps[goal] = best[goal] + best[goal] * problem.Goals[goal].TolerancePercent / 100;
            if (without is not null || !checkPlans) continue;
            Assert.Empty(callback.Breaches);
            Assert.Equal(best[goal], Model.Goals.AllGoals.Of(problem.Goals[goal].Goal).Measure(problem, callback.Last!));
        }
        return best;
    }

    /// <summary>A plan that is optimal in the first goal, or null if the week has none.</summary>
    public static Schedule? Plan(Problem problem)
    {
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        model.Cp.Minimize(CpSearch.PostGoalsWithCaps(model, 0, [])[0].Sum);
        if (model.Infeasible) return null;
        using var solver = new CpSolver { StringParameters = SingleWorkerParameters };
        return solver.Solve(model.Cp) is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? model.Read(solver.Value) : null;
    }

    private sealed class CheckedSolutions(CpWeekModel model) : CpSolverSolutionCallback
    {
        public List<string> Breaches { get; } = [];
        public Schedule? Last { get; private set; }
        public Exception? Fault { get; private set; }

        public override void OnSolutionCallback()
        {
            try
            {
                Last = model.Read(Value);
                Breaches.AddRange(Checker.Check(model.Problem, Last).Select(breach => breach.Sentence));
            }
            catch (Exception fault)
            {
                Fault = fault;
            }
        }
    }
}
