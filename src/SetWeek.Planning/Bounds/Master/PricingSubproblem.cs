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
/// One night of a week by itself, exact in its hours: any of the stints that may lie in it, and its shifts; the other nights are
/// away. Rules that tie a stint to its display or to another night are not posted, so what any valid plan does in the night keeps
/// what is posted here, and so do the night master's columns of the night with the rows that are of the night alone. The least of
/// a weighted sum of these columns is a row that every valid plan keeps.
/// </summary>
internal sealed class PricingSubproblem(Problem problem, RootPropagation propagation, int night)
{
    /// <summary>
    /// At level 2 the solver adds cuts for intervals that are not always true: of a chance week's night (seed 105 of the tests)
    /// it "proved" a least of 1 that is 0. With the master's rows said outright, its linear programme is as good without them.
    /// </summary>
    private const string SafeLinearisation = "linearization_level:1";

    private readonly Schedule emptySchedule = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    /// <summary>
    /// A proven least of the sum; null where none was proven. For a week without facts.
    /// </summary>
    /// <param name="master">Whose columns they are.</param>
    /// <param name="weights">By column of the master; only those of the night count.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="allowance">Seconds, or units of effort.</param>
    public long? MinWeightedSum(NightMaster master, long[] weights, Budget budget, double allowance)
    {
        var model = BuildModel(master);
        var columns = MapColumns(master, model);
        foreach (var (sum, least, highest) in master.Model.Rows.Take(master.PermanentRowCount))
            if (master.Model.NightOf(sum) == night)
                model.Cp.AddLinearConstraint(LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]!),
                    sum.Terms.Select(term => term.Factor)), least, highest);
        if (model.Infeasible) return null;
        var goal = LinearExpr.NewBuilder(columns.Length);
        for (var column = 0; column < columns.Length; column++)
            if (columns[column] is { } here && weights[column] != 0) goal.AddTerm(here, weights[column]);
        model.Cp.Minimize(goal);
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(allowance, 1)} {SafeLinearisation}" };
        CpSolverStatus status;
        using (new SolverStopTimer(solver, () => budget.Stop.IsCancellationRequested)) status = solver.Solve(model.Cp);
        budget.Charge(solver.Response?.DeterministicTime ?? allowance);
        // Without a solution it may not have begun to prove anything.
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
            BaseSchedule = emptySchedule, Displays = new bool[problem.Displays.Count], Stints = stints, People = stints, Shifts = shifts,
            Nights = [.. problem.Nights.Select(other => other.Index == night)],
        });
        foreach (var activity in model.Stints.Where(activity => stints[activity.Index])) RestrictStart(master, model, activity);
        foreach (var stint in problem.Stints.Where(stint => stint.Number > 1))
            model.AddPrecedence(model.Activities[stint.Index - 1], model.Activities[stint.Index], 0);
        // same-night: where both are of one display, the one is in the night if the other is.
        foreach (var edge in propagation.Windows.Precedences)
            if (edge.SameNight && problem.Stints[edge.Predecessor].Task.Display == problem.Stints[edge.Successor].Task.Display)
                model.AddEquivalence(model.Activities[edge.Predecessor].Present, model.Activities[edge.Successor].Present);
        return model.With(AllRules.OfOneNight, implied: true);
    }

    /// <summary>A stint keeps to the hours that every valid plan keeps it to, and to ways that the master has for it.</summary>
    private void RestrictStart(NightMaster master, CpWeekModel model, CpActivity activity)
    {
        var slot = propagation.Windows.WindowOf(activity.Index, night)!.Value;
        foreach (var (_, mode, _, moments) in model.StartDomainsOf(activity))
        {
            moments.AtLeast(model.CeilingUnit(slot.EarliestStart));
            moments.AtMost(model.FloorUnit(slot.LatestEnd) - activity.Sizes[mode]);
            if (master.Work.InModeAndNight(activity.Index, mode, night) is null) moments.AtMost(long.MinValue);
        }
    }

    /// <summary>By column of the master, what it is in the model; null for those of other nights and of the week.</summary>
    private LinearExpr?[] MapColumns(NightMaster master, CpWeekModel model)
    {
        var columns = new LinearExpr?[master.Model.Columns.Count];
        void Is(LinearExpression? sum, LinearExpr value)
        {
            if (sum is { Terms.Count: > 0 }) columns[sum.Terms[0].Column] = value;
        }
        foreach (var activity in model.Stints)
            for (var mode = 0; mode < activity.Modes.Count; mode++)
                if (master.Work.InModeAndNight(activity.Index, mode, night) is { } at) Is(at, LinearExpr.Term(activity.InModeAndNight[mode, night], 1));
        foreach (var activity in model.CleanDowns.Where(activity => activity.Night == night))
            Is(master.Work.CleanDownDue[activity.Zone][night], LinearExpr.Term(activity.Present, 1));
        foreach (var shift in model.ShiftsOn(night))
        {
            Is(master.Roster.HasShift(shift.Person, night), LinearExpr.Term(shift.Present, 1));
            Is(master.Roster.ShiftMinutes(shift.Person, night), shift.LengthStep!);
            Is(master.Roster.HasBreak(shift.Person, night), LinearExpr.Term(shift.HasBreak, 1));
        }
        for (var column = 0; column < columns.Length; column++)
            if (master.Model.Columns[column] is var (least, most, of) && of == night)
                columns[column] ??= model.Cp.NewIntVar(least, most, "");
        return columns;
    }
}
