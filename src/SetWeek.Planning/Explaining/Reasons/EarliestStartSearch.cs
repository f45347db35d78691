using Google.OrTools.Sat;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>
/// Computes how early a stint can start in any valid plan, and the best plan in which it starts earlier than now.
/// </summary>
internal static class EarliestStartSearch
{
    /// <summary>The share of the remaining budget for minimising the start itself.</summary>
    private const double EarliestStartShare = 0.4;

    /// <param name="subject">The stint to explain.</param>
    /// <param name="knownSchedule">A plan in which the stint starts earlier; null if none is known.</param>
    /// <param name="budget">The budget of the explanation.</param>
    public static EarliestStartExplanation Of(ExplanationSubject subject, Schedule? knownSchedule, Budget budget)
    {
        var (problem, own) = (subject.Problem, subject.Work.From);
        var windows = RootPropagation.Of(problem).Windows;
        var mayHoldMore = false;
        var bound = Math.Min(own, windows.HasNight(subject.Stint.Index) ? windows.EarliestStart(subject.Stint.Index) : own);
        var because = LongestPathExplanation.Of(problem, windows, subject.Stint);
        if (bound == own) return NoEarlierStart();

        var found = own;
        List<Schedule> plans = knownSchedule is null ? [] : [knownSchedule];
        if (WeekSize.IsSmall(problem) && SolveEarliestStart(subject, budget) is var (proven, plan))
        {
            if (proven > bound) (bound, because) = (Math.Min(own, proven), []);
            if (plan is not null) plans.Add(plan);
        }
        if (bound == own) return NoEarlierStart();
        foreach (var known in plans) found = Math.Min(found, StartIn(known));
        var trial = BestWithEarlierStart(subject, plans.Where(known => StartIn(known) < own), budget);
        if (trial.Schedule is not null) found = Math.Min(found, StartIn(trial.Schedule));
        if (trial is { Schedule: null, Proven: true })
        {
            (bound, because) = (own, []);
            return NoEarlierStart();
        }
        if (because.Count == 0) SearchConflict();
        return new EarliestStartExplanation(problem.Grid.TimeOf(bound), because, problem.Grid.TimeOf(found),
            trial.Schedule is null ? null : LeftShiftAnalysis.EarlierStartIn(subject, trial.Schedule), trial.Proven)
            { MayHoldMore = mayHoldMore };

        EarliestStartExplanation NoEarlierStart()
        {
            if (because.Count == 0) SearchConflict();
            var start = problem.Grid.TimeOf(own);
            return new EarliestStartExplanation(start, because, start, null, true) { MayHoldMore = mayHoldMore };
        }

        void SearchConflict()
        {
            if (EarlierStartConflict.Of(problem, subject.Stint, bound, budget) is { } conflict)
                (because, mayHoldMore) = (conflict.Members, !conflict.Irreducible);
        }

        int StartIn(Schedule plan) => plan.WorkByStint(problem)[subject.Stint.Index]!.From;
    }

    /// <summary>The best plan in which the stint starts earlier than in the explained plan.</summary>
    private static ConstrainedOptimum BestWithEarlierStart(
        ExplanationSubject subject, IEnumerable<Schedule> knownSchedules, Budget budget)
    {
        var problem = subject.Problem;
        var whole = WeekSize.IsSmall(problem);
        bool[] nights =
            [.. problem.Nights.Select(night => night.Index == subject.Work.Night || night.Index == subject.Work.Night - 1)];
        var free = whole ? null : Neighbourhood.Nights(problem, subject.Schedule, nights);
        var trial = ConstrainedOptimum.Of(problem, free, model =>
        {
            var activity = model.Activities[subject.Stint.Index];
            model.FixTrue(activity.Present);
            model.AtMost(activity.Start, model.CeilingUnit(subject.Work.From) - 1);
        }, knownSchedules, budget);
        // A proof for some nights does not hold for the whole week.
        return trial with { Proven = trial.Proven && whole };
    }

    /// <summary>Minimises the start of the stint: a lower bound on it, and the best plan found.</summary>
    private static (int Bound, Schedule? Plan) SolveEarliestStart(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var activity = model.Activities[subject.Stint.Index];
        model.FixTrue(activity.Present);
        model.Cp.Minimize(activity.Start);
        // Only feasible hints: presolve may crash while it repairs an infeasible one (docs/decisions/messages.md).
        if (Checker.Check(problem, subject.Schedule).Count == 0) model.Hint(subject.Schedule);
        if (model.Infeasible || budget.Spent) return (0, null);
        var limits = budget.SatParameters(budget.Remaining * EarliestStartShare, 1);
        using var solver = new CpSolver { StringParameters = $"{limits} cp_model_probing_level:0" };
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested, budget.Clock);
        var status = solver.Solve(model.Cp);
        budget.Charge(solver.Response!.DeterministicTime);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible)) return (0, null);
        var plan = model.Read(solver.Value);
        var bound = (int)Math.Ceiling(solver.BestObjectiveBound - 1e-6) * model.Unit;
        return (bound, Checker.Check(problem, plan).Count == 0 ? plan : null);
    }
}
