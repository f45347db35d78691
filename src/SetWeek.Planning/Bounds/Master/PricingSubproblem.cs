using Google.OrTools.Sat;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Pricing subproblem: one night by itself, with exact times, its shifts and any of the stints that can lie in it. Rules that tie
/// a stint to its display or to another night are not posted, so the night of every valid plan is a solution. The night master's
/// columns of the night, and its rows over these columns alone, are part of the model. The minimum of a weighted sum of these
/// columns is therefore a cut that every valid plan meets.
/// </summary>
internal sealed class PricingSubproblem(Problem problem, RootPropagation propagation, int night)
{
    /// <summary>
    /// At level 2 CP-SAT adds interval cuts that can be wrong: for a night of a random week (seed 105 of the tests) it reported a
    /// minimum of 1 where 0 is possible. With the master's rows in the model, level 1 gives as good a linear relaxation.
    /// </summary>
    private const string SafeLinearisation = "linearization_level:1";

    private readonly Schedule emptySchedule = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    /// <summary>
    /// A proven lower bound on the weighted sum of the night's columns; null where none was proven. Not for a re-plan.
    /// </summary>
    /// <param name="master">The night master that owns the columns.</param>
    /// <param name="weights">By column of the master; those of other nights are ignored.</param>
    /// <param name="budget">Limits the run and is charged for it.</param>
    /// <param name="allowance">Seconds, or units of effort.</param>
    public long? MinWeightedSum(NightMaster master, long[] weights, Budget budget, double allowance)
    {
        var model = BuildModel(master);
        var columns = MapColumns(master, model);
        foreach (var (sum, lower, upper) in master.Model.Rows.Take(master.PermanentRowCount))
            if (master.Model.NightOf(sum) == night)
                model.Cp.AddLinearConstraint(LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]!),
                    sum.Terms.Select(term => term.Factor)), lower, upper);
        if (model.Infeasible) return null;
        var goal = LinearExpr.NewBuilder(columns.Length);
        for (var column = 0; column < columns.Length; column++)
            if (columns[column] is { } value && weights[column] != 0) goal.AddTerm(value, weights[column]);
        model.Cp.Minimize(goal);
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(allowance, 1)} {SafeLinearisation}" };
        CpSolverStatus status;
        using (new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested, budget.Clock))
            status = solver.Solve(model.Cp);
        budget.Charge(solver.Response?.DeterministicTime ?? allowance);
        // A solver stopped before it starts returns an unproven bound, so the bound counts only with a solution.
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? (long)Math.Ceiling(solver.BestObjectiveBound - 1e-3) : null;
    }

    private CpWeekModel BuildModel(NightMaster master)
    {
        var (stints, shifts) = (new bool[problem.Stints.Count], new bool[problem.Crew.Count, problem.Nights.Count]);
        foreach (var (stint, _, _, _) in master.Work.ColumnsIn(night)) stints[stint.Index] = true;
        foreach (var person in problem.Crew) shifts[person.Index, night] = true;
        var model = new CpWeekModel(problem, new FreeVariables
        {
            BaseSchedule = emptySchedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints,
            Shifts = shifts, Nights = [.. problem.Nights.Select(other => other.Index == night)],
        });
        foreach (var activity in model.Stints.Where(activity => stints[activity.Index])) RestrictStart(master, model, activity);
        foreach (var stint in problem.Stints.Where(stint => stint.Number > 1))
            model.AddPrecedence(model.Activities[stint.Index - 1], model.Activities[stint.Index], 0);
        // same-night: two stints of one display lie in this night together or not at all.
        foreach (var precedence in propagation.Windows.Precedences)
            if (precedence.SameNight
                && problem.Stints[precedence.Predecessor].Task.Display == problem.Stints[precedence.Successor].Task.Display)
                model.AddEquivalence(
                    model.Activities[precedence.Predecessor].Present, model.Activities[precedence.Successor].Present);
        return model.With(AllRules.OfOneNight, implied: true);
    }

    /// <summary>Restricts a stint to its propagated time window and to the modes that have a column in the master.</summary>
    private void RestrictStart(NightMaster master, CpWeekModel model, CpActivity activity)
    {
        var window = propagation.Windows.WindowOf(activity.Index, night)!.Value;
        foreach (var (_, mode, _, starts) in model.StartDomainsOf(activity))
        {
            starts.AtLeast(model.CeilingUnit(window.EarliestStart));
            starts.AtMost(model.FloorUnit(window.LatestEnd) - activity.Sizes[mode]);
            if (master.Work.InModeAndNight(activity.Index, mode, night) is null) starts.AtMost(long.MinValue);
        }
    }

    /// <summary>
    /// By column of the master: its value in this model, a free variable where the model has none; null for columns of other
    /// nights and of the week.
    /// </summary>
    private LinearExpr?[] MapColumns(NightMaster master, CpWeekModel model)
    {
        var columns = new LinearExpr?[master.Model.Columns.Count];
        void Map(LinearExpression? sum, LinearExpr value)
        {
            if (sum is { Terms.Count: > 0 }) columns[sum.Terms[0].Column] = value;
        }
        foreach (var activity in model.Stints)
            for (var mode = 0; mode < activity.Modes.Count; mode++)
                if (master.Work.InModeAndNight(activity.Index, mode, night) is { } isDone)
                    Map(isDone, LinearExpr.Term(activity.InModeAndNight[mode, night], 1));
        foreach (var activity in model.CleanDowns.Where(activity => activity.Night == night))
            Map(master.Work.CleanDownDue[activity.Zone][night], LinearExpr.Term(activity.Present, 1));
        foreach (var shift in model.ShiftsOn(night))
        {
            Map(master.Roster.HasShift(shift.Person, night), LinearExpr.Term(shift.Present, 1));
            Map(master.Roster.ShiftMinutes(shift.Person, night), shift.LengthStep!);
            Map(master.Roster.HasBreak(shift.Person, night), LinearExpr.Term(shift.HasBreak, 1));
        }
        for (var column = 0; column < columns.Length; column++)
            if (master.Model.Columns[column] is var (lower, upper, nightOfColumn) && nightOfColumn == night)
                columns[column] ??= model.Cp.NewIntVar(lower, upper, "");
        return columns;
    }
}
