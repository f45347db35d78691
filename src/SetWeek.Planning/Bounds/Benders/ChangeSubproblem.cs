using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Goals;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// One night of a re-plan, exact in its hours and shut off from the others: its shifts and the works of some stints. Rules that
/// tie stints to a display or to another night are not posted, and all other work is away. What any valid plan does in the
/// night, less the work that is not asked about, keeps what is posted here: taking a stint out breaks none of these rules (with
/// the last of a zone's work goes its clean-down). So what cannot be here cannot be in any plan.
/// </summary>
internal sealed class ChangeSubproblem(Problem problem, RootPropagation propagation)
{
    /// <summary>Nobody and nothing: whatever is not asked about.</summary>
    private readonly Schedule emptySchedule = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    private readonly Dictionary<(int, int), ScheduledShift> published = problem.Facts!.Published.Shifts
        .DistinctBy(shift => (shift.Person, shift.Night)).ToDictionary(shift => (shift.Person, shift.Night));

    /// <summary>The night of the published plan keeps all that is asked of a night: that needs no solver.</summary>
    public bool PublishedNightIsValid(int night)
    {
        var plan = problem.Facts!.PublishedWithActuals;
        bool IsThere(int one) => one == night || problem.Nights[one].Opens < problem.Facts.Now;
        var there = plan with
        {
            Shifts = [.. plan.Shifts.Where(shift => IsThere(shift.Night))],
            Work = [.. plan.Work.Where(work => IsThere(work.Night))],
            Keyholders = [.. plan.Keyholders.Select((who, one) => IsThere(one) ? who : null)],
        };
        return AllRules.OfOneNight.All(rule => rule.Check(problem, there).All(breach => breach.IsUnavoidable));
    }

    /// <summary>There is no such night at all, or none within <paramref name="maxChanges"/>; null: not found out.</summary>
    /// <param name="query">The night and its stints.</param>
    /// <param name="maxChanges">In changes; null: no matter.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="allowance">Seconds, or units of effort, at most.</param>
    public bool? IsInfeasible(ChangeSubproblemQuery query, long? maxChanges, Budget budget, double allowance)
    {
        var (model, sum) = BuildModel(query);
        if (maxChanges is { } cap) model.AtMost(sum, cap);
        if (model.Infeasible) return true;
        model.Hint(problem.Facts!.Published);
        // Solvers have said it in error: it is asked again another way.
        var status = SolveModel(model, budget, allowance, "", out _);
        if (status == CpSolverStatus.Infeasible) status = SolveModel(model, budget, allowance, "linearization_level:0", out _);
        return status switch
        {
            CpSolverStatus.Infeasible => true,
            CpSolverStatus.Optimal or CpSolverStatus.Feasible => false,
            _ => null,
        };
    }

    /// <summary>The least that the night comes to, or what is proven of it.</summary>
    public long MinChanges(ChangeSubproblemQuery query, Budget budget, double allowance)
    {
        var (model, sum) = BuildModel(query);
        if (model.Infeasible) return 0;
        model.Hint(problem.Facts!.Published);
        model.Cp.Minimize(sum);
        var status = SolveModel(model, budget, allowance, "", out var bound);
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? (long)Math.Ceiling(bound - 1e-6) : 0;
    }

    private static CpSolverStatus SolveModel(CpWeekModel model, Budget budget, double allowance, string extraParameters, out double bound)
    {
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(allowance, 1)} {extraParameters}" };
        using var stopping = new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested);
        var status = solver.Solve(model.Cp);
        if (budget.Deterministic) budget.Charge(solver.Response!.DeterministicTime);
        bound = solver.BestObjectiveBound;
        return status;
    }

    private (CpWeekModel Model, LinearExpr Sum) BuildModel(ChangeSubproblemQuery query)
    {
        var (stints, shifts) = (new bool[problem.Stints.Count], new bool[problem.Crew.Count, problem.Nights.Count]);
        foreach (var stint in query.OptionalStints.Concat(query.RequiredStints)) stints[stint] = true;
        // A night under way has work that waits for its clean-down: it is free as well, and its changes are not counted.
        bool[] free = [.. problem.Nights.Select(night => night.Index == query.Night
            || (night.Opens < problem.Facts!.Now && night.Closes > problem.Facts.Now))];
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights) shifts[person.Index, night.Index] = free[night.Index];
        var model = new CpWeekModel(problem, new FreeVariables
        {
            BaseSchedule = emptySchedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints, Nights = free,
            Shifts = shifts,
        });
        foreach (var activity in model.Stints.Where(activity => stints[activity.Index] && !activity.Begun)) RestrictToNight(model, activity, query.Night);
        foreach (var stint in query.RequiredStints) model.FixTrue(model.Activities[stint].Present);
        foreach (var stint in problem.Stints.Where(one => one.Number > 1 && stints[one.Index] && stints[one.Index - 1]))
            model.AddPrecedence(model.Activities[stint.Index - 1], model.Activities[stint.Index], 0);
        model.With(AllRules.OfOneNight, implied: true);
        if (!propagation.ShiftWindows.HasBegun(query.Night)) new CpNightCapacity(problem, propagation, model, query.Night).Post();
        return (model, ChangeExpression(model, query));
    }

    /// <summary>A stint is in the night or away, and keeps to the hours that every valid plan keeps it to.</summary>
    private void RestrictToNight(CpWeekModel model, CpActivity activity, int night)
    {
        foreach (var (_, mode, other, _) in model.StartDomainsOf(activity).Where(place => place.Night != night).ToArray())
        {
            model.FixFalse(activity.InNight[other]);
            model.FixFalse(activity.InModeAndNight[mode, other]);
        }
        if (propagation.Windows.WindowOf(activity.Index, night) is not { } slot)
        {
            model.FixFalse(activity.Present);
            return;
        }
        foreach (var (_, mode, _, moments) in model.StartDomainsOf(activity).Where(place => place.Night == night))
        {
            moments.AtLeast(model.CeilingUnit(slot.EarliestStart));
            moments.AtMost(model.FloorUnit(slot.LatestEnd) - activity.Sizes[mode]);
        }
    }

    private LinearExpr ChangeExpression(CpWeekModel model, ChangeSubproblemQuery query)
    {
        var sum = LinearExpr.NewBuilder(64);
        foreach (var shift in model.ShiftsOn(query.Night))
        {
            var was = published.GetValueOrDefault((shift.Person, shift.Night));
            if (was is not null && was.To <= problem.Facts!.Now) continue;
            ChangesObjective.AddShiftChange(model, problem.Facts!, shift, was, sum);
            if (was is null) sum.AddTerm(shift.Present, query.AdditionCosts[shift.Person]);
        }
        foreach (var stint in query.OptionalStints) sum.Add(query.RemovalCost).AddTerm(model.Activities[stint].Present, -query.RemovalCost);
        return sum;
    }
}

/// <summary>What is asked of one night: stints that are in it or pay for leaving, and stints that are in it.</summary>
/// <param name="Night">The night.</param>
/// <param name="OptionalStints">Each of these that is not in it costs <paramref name="RemovalCost"/>.</param>
/// <param name="RequiredStints">All of these are in it.</param>
/// <param name="RemovalCost">In changes.</param>
/// <param name="AdditionCosts">By person: what adding them to the night costs besides, being dropped elsewhere for it.</param>
internal sealed record ChangeSubproblemQuery(int Night, IReadOnlyList<int> OptionalStints, IReadOnlyList<int> RequiredStints, int RemovalCost,
    IReadOnlyList<int> AdditionCosts);
