using Google.OrTools.Sat;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Rules.Definition;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Rules.Shifts;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Benders subproblem: one night of a re-plan by itself, with exact times, its shifts and the stints that a query names. All
/// other work is left out, and rules that tie stints to a display or to another night are not posted. Nor are those that need
/// other work: company, and that a break lies between two pieces of work. The night of every valid plan, less the work that is
/// left out, is a solution: removing a stint breaks none of the posted rules, and the clean-down goes with the last work of its
/// zone. So a night that is infeasible here is infeasible in every plan.
/// </summary>
internal sealed class ChangeSubproblem(Problem problem, RootPropagation propagation)
{
    private static readonly IReadOnlyList<IRule> PostedRules =
        [.. AllRules.OfOneNight.Where(rule => rule.Id is not (RuleId.Company or RuleId.Break))];

    /// <summary>The base schedule: everything outside the query is absent.</summary>
    private readonly Schedule emptySchedule = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    private readonly Dictionary<(int Person, int Night), ScheduledShift> publishedShifts =
        problem.Facts!.Published.ShiftsByPersonNight();

    /// <summary>
    /// The night as published, together with the begun nights, breaks no rule of a single night except unavoidably. Decided by
    /// the checks, without a solver.
    /// </summary>
    public bool PublishedNightIsValid(int night)
    {
        var plan = problem.Facts!.PublishedWithActuals;
        bool IsKept(int index) => index == night || problem.Nights[index].Opens < problem.Facts.Now;
        var kept = plan with
        {
            Shifts = [.. plan.Shifts.Where(shift => IsKept(shift.Night))],
            Work = [.. plan.Work.Where(work => IsKept(work.Night))],
            Keyholders = [.. plan.Keyholders.Select((keyholder, index) => IsKept(index) ? keyholder : null)],
        };
        return AllRules.OfOneNight.All(rule => rule.Check(problem, kept).All(breach => breach.IsUnavoidable));
    }

    /// <summary>
    /// True: the night is infeasible within <paramref name="maxChanges"/>. False: it is feasible. Null: not decided in time.
    /// </summary>
    /// <param name="query">The night and its stints.</param>
    /// <param name="maxChanges">Largest number of changes, including the costs in the query; null means no limit.</param>
    /// <param name="budget">Limits the run and is charged for it.</param>
    /// <param name="allowance">The most that this call may use of the budget, in seconds or units of effort.</param>
    /// <param name="maxShuffled">Largest number of shuffled stints; null means no limit.</param>
    public bool? IsInfeasible(
        ChangeSubproblemQuery query, long? maxChanges, Budget budget, double allowance, long? maxShuffled = null)
    {
        var (model, sum) = BuildModel(query);
        if (maxChanges is { } cap) model.AtMost(sum, cap);
        if (maxShuffled is { } most) model.AtMost(ShuffledObjective.Post(model).Sum, most);
        if (model.Infeasible) return true;
        model.Hint(problem.Facts!.Published);
        // Solvers have wrongly reported infeasibility, so a second run with other parameters must confirm it.
        using var solver = new CpSolver();
        var status = SolveModel(solver, model, budget, allowance, CpRun.NoLinearRelaxation);
        if (status == CpSolverStatus.Infeasible) status = SolveModel(solver, model, budget, allowance, "");
        return status switch
        {
            CpSolverStatus.Infeasible => true,
            CpSolverStatus.Optimal or CpSolverStatus.Feasible => false,
            _ => null,
        };
    }

    /// <summary>A proven lower bound on the changes of the night, query costs included; 0 where none was proven.</summary>
    public long MinChanges(ChangeSubproblemQuery query, Budget budget, double allowance)
    {
        var (model, sum) = BuildModel(query);
        if (model.Infeasible) return 0;
        model.Hint(problem.Facts!.Published);
        model.Cp.Minimize(sum);
        using var solver = new CpSolver();
        var status = SolveModel(solver, model, budget, allowance, "");
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? (long)Math.Ceiling(solver.BestObjectiveBound - 1e-6) : 0;
    }

    private static CpSolverStatus SolveModel(
        CpSolver solver, CpWeekModel model, Budget budget, double allowance, string extraParameters)
    {
        solver.StringParameters = $"{budget.SatParameters(allowance, 1)} {extraParameters}";
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested, budget.Clock);
        var status = solver.Solve(model.Cp);
        if (budget.Deterministic) budget.Charge(solver.Response!.DeterministicTime);
        return status;
    }

    private (CpWeekModel Model, LinearExpr Sum) BuildModel(ChangeSubproblemQuery query)
    {
        var (stints, shifts) = (new bool[problem.Stints.Count], new bool[problem.Crew.Count, problem.Nights.Count]);
        foreach (var stint in query.OptionalStints.Concat(query.RequiredStints)) stints[stint] = true;
        // Begun work of a night under way still needs its clean-down, so that night is free too. Its changes are not counted.
        bool[] free = [.. problem.Nights.Select(night => night.Index == query.Night
            || (night.Opens < problem.Facts!.Now && night.Closes > problem.Facts.Now))];
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights) shifts[person.Index, night.Index] = free[night.Index];
        var model = new CpWeekModel(problem, new FreeVariables
        {
            BaseSchedule = emptySchedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Nights = free, Shifts = shifts,
        });
        foreach (var activity in model.Stints.Where(activity => stints[activity.Index] && !activity.Begun))
            RestrictToNight(model, activity, query.Night);
        foreach (var stint in query.RequiredStints) model.FixTrue(model.Activities[stint].Present);
        foreach (var stint in problem.Stints
            .Where(stint => stint.Number > 1 && stints[stint.Index] && stints[stint.Index - 1]))
            model.AddPrecedence(model.Activities[stint.Index - 1], model.Activities[stint.Index], 0);
        BreakConstraint.PostTimes(model);
        model.With(PostedRules, implied: true);
        if (!propagation.ShiftWindows.HasBegun(query.Night))
            new CpNightCapacity(problem, propagation, model, query.Night).Post();
        return (model, ChangeExpression(model, query));
    }

    /// <summary>A stint lies in the night within its propagated time window, or is absent.</summary>
    private void RestrictToNight(CpWeekModel model, CpActivity activity, int night)
    {
        foreach (var (_, mode, otherNight, _) in model.StartDomainsOf(activity).Where(domain => domain.Night != night).ToArray())
        {
            model.FixFalse(activity.InNight[otherNight]);
            model.FixFalse(activity.InModeAndNight[mode, otherNight]);
        }
        if (propagation.Windows.WindowOf(activity.Index, night) is not { } window)
        {
            model.FixFalse(activity.Present);
            return;
        }
        foreach (var (_, mode, _, starts) in model.StartDomainsOf(activity).Where(domain => domain.Night == night))
        {
            starts.AtLeast(model.CeilingUnit(window.EarliestStart));
            starts.AtMost(model.FloorUnit(window.LatestEnd) - activity.Sizes[mode]);
        }
    }

    private LinearExpr ChangeExpression(CpWeekModel model, ChangeSubproblemQuery query)
    {
        var sum = LinearExpr.NewBuilder(64);
        foreach (var shift in model.ShiftsOn(query.Night))
        {
            var published = publishedShifts.GetValueOrDefault((shift.Person, shift.Night));
            if (published is not null && published.To <= problem.Facts!.Now) continue;
            ChangesObjective.AddShiftChange(model, problem.Facts!, shift, published, sum);
            if (published is null) sum.AddTerm(shift.Present, query.AdditionCosts[shift.Person]);
        }
        foreach (var stint in query.OptionalStints)
            sum.Add(query.RemovalCost).AddTerm(model.Activities[stint].Present, -query.RemovalCost);
        return sum;
    }
}

/// <summary>Asks for the smallest number of changes that one night needs if it contains certain stints.</summary>
/// <param name="Night">The night.</param>
/// <param name="OptionalStints">Each of these stints that is not done in the night costs <paramref name="RemovalCost"/>.</param>
/// <param name="RequiredStints">All of these stints must be done in the night.</param>
/// <param name="RemovalCost">The cost of leaving out one optional stint, as a number of changes.</param>
/// <param name="AdditionCosts">
/// By person, in changes: the further cost of adding them to the night, for a shift that must then be dropped elsewhere.
/// </param>
internal sealed record ChangeSubproblemQuery(
    int Night, IReadOnlyList<int> OptionalStints, IReadOnlyList<int> RequiredStints, int RemovalCost,
    IReadOnlyList<int> AdditionCosts);
