using SetWeek.Model.Weeks;
using SetWeek.Model.Plans;
using Google.OrTools.Sat;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// A week solved by the exact model, goal by goal to the proven optimum; the check judges every plan on the way.
/// </summary>
internal static class CpOptimum
{
    private const string SingleWorkerParameters = "num_workers:1 max_deterministic_time:30 cp_model_probing_level:0";

    /// <summary>The best value of each goal, those above held to their best and tolerance; null where there is no plan.</summary>
    /// <param name="problem">What is planned.</param>
    /// <param name="without">A rule that is left out of the model; then plans are not checked.</param>
    /// <param name="checkPlans">False where plans found on the way need not pass the check.</param>
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
            using var judge = new CheckedSolutions(model);
            var status = solver.Solve(model.Cp, judge);
            if (judge.Fault is not null) throw judge.Fault;
            if (status == CpSolverStatus.Infeasible && goal == 0) return null;
            Assert.Equal(CpSolverStatus.Optimal, status);
            best[goal] = term.ValueAt(solver.BestObjectiveBound);
            caps[goal] = best[goal] + best[goal] * problem.Goals[goal].TolerancePercent / 100;
            if (without is not null || !checkPlans) continue;
            Assert.Empty(judge.Refused);
            Assert.Equal(best[goal], Model.Goals.AllGoals.Of(problem.Goals[goal].Goal).Measure(problem, judge.Last!));
        }
        return best;
    }

    /// <summary>Some plan, the best in the first goal; null where there is none.</summary>
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
        public List<string> Refused { get; } = [];
        public Schedule? Last { get; private set; }
        public Exception? Fault { get; private set; }

        public override void OnSolutionCallback()
        {
            try
            {
                Last = model.Read(Value);
                Refused.AddRange(Checker.Check(model.Problem, Last).Select(breach => breach.Sentence));
            }
            catch (Exception fault)
            {
                Fault = fault;
            }
        }
    }
}
