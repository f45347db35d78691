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

/// <summary>How early a stint can start in any valid plan, and what a plan in which it starts earlier would cost.</summary>
internal static class EarliestStartSearch
{
    /// <summary>Stints up to which the whole week is solved; of a larger one, only the nights near the stint are.</summary>
    private const int MaxStintsOfWholeWeek = 70;

    /// <summary>Of the time for it, the share in which the earliest start itself is looked for.</summary>
    private const double EarliestStartShare = 0.4;

    /// <param name="subject">The stint that is asked about.</param>
    /// <param name="knownSchedule">A plan in which it starts earlier, where one is known.</param>
    /// <param name="budget">What may be used.</param>
    public static EarliestStartExplanation Of(ExplanationSubject subject, Schedule? knownSchedule, Budget budget)
    {
        var (problem, own) = (subject.Problem, subject.Work.From);
        var windows = RootPropagation.Of(problem).Windows;
        var mayHoldMore = false;
        var bound = Math.Min(own, windows.HasNight(subject.Stint.Index) ? windows.EarliestStart(subject.Stint.Index) : own);
        var because = LongestPathExplanation.Of(problem, windows, subject.Stint);
        if (bound == own) return Nothing();

        var found = own;
        List<Schedule> plans = knownSchedule is null ? [] : [knownSchedule];
        if (problem.Stints.Count <= MaxStintsOfWholeWeek && SolveEarliestStart(subject, budget) is var (proven, plan))
        {
            if (proven > bound) (bound, because) = (Math.Min(own, proven), []);
            if (plan is not null) plans.Add(plan);
        }
        if (bound == own) return Nothing();
        foreach (var one in plans) found = Math.Min(found, StartIn(one));
        var trial = BestWithEarlierStart(subject, plans.Where(one => StartIn(one) < own), budget);
        if (trial.Schedule is not null) found = Math.Min(found, StartIn(trial.Schedule));
        if (trial is { Schedule: null, Proven: true })
        {
            (bound, because) = (own, []);
            return Nothing();
        }
        if (because.Count == 0) Ask();
        return new EarliestStartExplanation(problem.Grid.TimeOf(bound), because, problem.Grid.TimeOf(found),
            trial.Schedule is null ? null : LeftShiftAnalysis.EarlierStartIn(subject, trial.Schedule), trial.Proven) { MayHoldMore = mayHoldMore };

        EarliestStartExplanation Nothing()
        {
            if (because.Count == 0) Ask();
            var at = problem.Grid.TimeOf(own);
            return new EarliestStartExplanation(at, because, at, null, true) { MayHoldMore = mayHoldMore };
        }

        void Ask()
        {
            if (EarlierStartConflict.Of(problem, subject.Stint, bound, budget) is { } conflict)
                (because, mayHoldMore) = (conflict.Members, !conflict.Smallest);
        }

        int StartIn(Schedule plan) => plan.WorkByStint(problem)[subject.Stint.Index]!.From;
    }

    /// <summary>The best plan in which it starts before it does now.</summary>
    private static ConstrainedOptimum BestWithEarlierStart(ExplanationSubject subject, IEnumerable<Schedule> knownSchedules, Budget budget)
    {
        var problem = subject.Problem;
        var whole = problem.Stints.Count <= MaxStintsOfWholeWeek;
        bool[] nights =
            [.. problem.Nights.Select(night => night.Index == subject.Work.Night || night.Index == subject.Work.Night - 1)];
        var trial = ConstrainedOptimum.Of(problem, whole ? null : Neighbourhood.Nights(problem, subject.Schedule, nights), model =>
        {
            var activity = model.Activities[subject.Stint.Index];
            model.FixTrue(activity.Present);
            model.AtMost(activity.Start, model.CeilingUnit(subject.Work.From) - 1);
        }, knownSchedules, budget);
        // What some nights alone do not allow, the whole week may.
        return trial with { Proven = trial.Proven && whole };
    }

    /// <summary>A minute before which no plan starts it, and the plan found that starts it earliest.</summary>
    private static (int Bound, Schedule? Plan) SolveEarliestStart(ExplanationSubject subject, Budget budget)
    {
        var problem = subject.Problem;
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var activity = model.Activities[subject.Stint.Index];
        model.FixTrue(activity.Present);
        model.Cp.Minimize(activity.Start);
        // A hint that presolve has to mend may end the process: docs/decisions/messages.md.
        if (Checker.Check(problem, subject.Schedule).Count == 0) model.Hint(subject.Schedule);
        if (model.Infeasible || budget.Spent) return (0, null);
        var limits = budget.SatParameters(budget.Remaining * EarliestStartShare, 1);
        using var solver = new CpSolver { StringParameters = $"{limits} cp_model_probing_level:0" };
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested);
        var status = solver.Solve(model.Cp);
        budget.Charge(solver.Response!.DeterministicTime);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible)) return (0, null);
        var plan = model.Read(solver.Value);
        var bound = (int)Math.Ceiling(solver.BestObjectiveBound - 1e-6) * model.Unit;
        return (bound, Checker.Check(problem, plan).Count == 0 ? plan : null);
    }
}
