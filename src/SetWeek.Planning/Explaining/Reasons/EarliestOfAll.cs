using Google.OrTools.Sat;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Reasons;

/// <summary>How early a stint can start in any valid plan, and what a plan in which it starts earlier would cost.</summary>
internal static class EarliestOfAll
{
    /// <summary>Stints up to which the whole week is solved; of a larger one, only the nights near the stint are.</summary>
    private const int Small = 70;

    /// <summary>Of the time for it, the share in which the earliest start itself is looked for.</summary>
    private const double ForEarliest = 0.4;

    /// <param name="subject">The stint that is asked about.</param>
    /// <param name="open">A plan in which it starts earlier, where one is known.</param>
    /// <param name="budget">What may be used.</param>
    public static WhyAtAll Of(Subject subject, Schedule? open, Budget budget)
    {
        var (problem, own) = (subject.Problem, subject.Work.From);
        var windows = Certificates.Of(problem).Windows;
        var mayHoldMore = false;
        var bound = Math.Min(own, windows.Possible(subject.Stint.Index) ? windows.EarliestStart(subject.Stint.Index) : own);
        var because = Chain.Of(problem, windows, subject.Stint);
        if (bound == own) return Nothing();

        var found = own;
        List<Schedule> plans = open is null ? [] : [open];
        if (problem.Stints.Count <= Small && Earliest(subject, budget) is var (proven, plan))
        {
            if (proven > bound) (bound, because) = (Math.Min(own, proven), []);
            if (plan is not null) plans.Add(plan);
        }
        if (bound == own) return Nothing();
        foreach (var one in plans) found = Math.Min(found, StartIn(one));
        var trial = Sooner(subject, plans.Where(one => StartIn(one) < own), budget);
        if (trial.Plan is not null) found = Math.Min(found, StartIn(trial.Plan));
        if (trial is { Plan: null, Proven: true })
        {
            (bound, because) = (own, []);
            return Nothing();
        }
        if (because.Count == 0) Ask();
        return new WhyAtAll(problem.Grid.TimeOf(bound), because, problem.Grid.TimeOf(found),
            trial.Plan is null ? null : HeldHere.Earlier(subject, trial.Plan), trial.Proven) { MayHoldMore = mayHoldMore };

        WhyAtAll Nothing()
        {
            if (because.Count == 0) Ask();
            var at = problem.Grid.TimeOf(own);
            return new WhyAtAll(at, because, at, null, true) { MayHoldMore = mayHoldMore };
        }

        void Ask()
        {
            if (SoonerConflict.Of(problem, subject.Stint, bound, budget) is { } conflict)
                (because, mayHoldMore) = (conflict.Members, !conflict.Smallest);
        }

        int StartIn(Schedule plan) => plan.ByStint(problem)[subject.Stint.Index]!.From;
    }

    /// <summary>The best plan in which it starts before it does now.</summary>
    private static BestUnderCondition Sooner(Subject subject, IEnumerable<Schedule> known, Budget budget)
    {
        var problem = subject.Problem;
        var whole = problem.Stints.Count <= Small;
        bool[] nights =
            [.. problem.Nights.Select(night => night.Index == subject.Work.Night || night.Index == subject.Work.Night - 1)];
        var trial = BestUnderCondition.Of(problem, whole ? null : Neighbourhood.Nights(problem, subject.Plan, nights), model =>
        {
            var job = model.Jobs[subject.Stint.Index];
            model.Demand(job.Present);
            model.AtMost(job.Start, model.Up(subject.Work.From) - 1);
        }, known, budget);
        // What some nights alone do not allow, the whole week may.
        return trial with { Proven = trial.Proven && whole };
    }

    /// <summary>A minute before which no plan starts it, and the plan found that starts it earliest.</summary>
    private static (int Bound, Schedule? Plan) Earliest(Subject subject, Budget budget)
    {
        var problem = subject.Problem;
        var model = new ExactModel(problem).With(AllRules.InOrder);
        var job = model.Jobs[subject.Stint.Index];
        model.Demand(job.Present);
        model.Cp.Minimize(job.Start);
        // A hint that presolve has to mend may end the process: docs/decisions/messages.md.
        if (Checker.Check(problem, subject.Plan).Count == 0) model.Hint(subject.Plan);
        if (model.Impossible || budget.Spent) return (0, null);
        var limits = budget.SatParameters(budget.Left * ForEarliest, 1);
        using var solver = new CpSolver { StringParameters = $"{limits} cp_model_probing_level:0" };
        using var stopping = new Stopping(solver, () => budget.Stop.IsCancellationRequested);
        var status = solver.Solve(model.Cp);
        budget.Use(solver.Response!.DeterministicTime);
        if (status is not (CpSolverStatus.Optimal or CpSolverStatus.Feasible)) return (0, null);
        var plan = model.Read(solver.Value);
        var bound = (int)Math.Ceiling(solver.BestObjectiveBound - 1e-6) * model.Unit;
        return (bound, Checker.Check(problem, plan).Count == 0 ? plan : null);
    }
}
