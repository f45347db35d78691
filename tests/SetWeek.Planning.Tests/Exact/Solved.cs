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
internal static class Solved
{
    private const string Alone = "num_workers:1 max_deterministic_time:30 cp_model_probing_level:0";

    /// <summary>The best value of each goal, those above held to their best and tolerance; null where there is no plan.</summary>
    /// <param name="problem">What is planned.</param>
    /// <param name="without">Id of a rule that is left out of the model; then plans are not checked.</param>
    public static long[]? Best(Problem problem, string? without = null)
    {
        IRule[] rules = [.. AllRules.InOrder.Where(rule => rule.Id != without)];
        var (best, caps) = (new long[problem.Goals.Count], new long[problem.Goals.Count]);
        for (var goal = 0; goal < best.Length; goal++)
        {
            var model = new ExactModel(problem).With(rules);
            var term = ExactSearch.Capped(model, goal, caps.AsSpan(0, goal))[goal];
            model.Cp.Minimize(term.Sum);
            Assert.True(term.Exact, problem.Goals[goal].Goal);
            if (model.Impossible) return null;
            using var solver = new CpSolver { StringParameters = Alone };
            using var judge = new Judge(model);
            var status = solver.Solve(model.Cp, judge);
            if (judge.Fault is not null) throw judge.Fault;
            if (status == CpSolverStatus.Infeasible && goal == 0) return null;
            Assert.Equal(CpSolverStatus.Optimal, status);
            best[goal] = term.Of(solver.BestObjectiveBound);
            caps[goal] = best[goal] + best[goal] * problem.Goals[goal].TolerancePercent / 100;
            if (without is not null) continue;
            Assert.Empty(judge.Refused);
            Assert.Equal(best[goal], Model.Goals.AllGoals.Named(problem.Goals[goal].Goal).Measure(problem, judge.Last!));
        }
        return best;
    }

    /// <summary>Some plan, the best in the first goal; null where there is none.</summary>
    public static Schedule? Plan(Problem problem)
    {
        var model = new ExactModel(problem).With(AllRules.InOrder);
        model.Cp.Minimize(ExactSearch.Capped(model, 0, [])[0].Sum);
        if (model.Impossible) return null;
        using var solver = new CpSolver { StringParameters = Alone };
        return solver.Solve(model.Cp) is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? model.Read(solver.Value) : null;
    }

    private sealed class Judge(ExactModel model) : CpSolverSolutionCallback
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
