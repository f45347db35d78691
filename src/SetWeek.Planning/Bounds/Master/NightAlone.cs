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
internal sealed class NightAlone(Problem problem, Certificates known, int night)
{
    /// <summary>
    /// At level 2 the solver adds cuts for intervals that are not always true: of a chance week's night (seed 105 of the tests)
    /// it "proved" a least of 1 that is 0. With the master's rows said outright, its linear programme is as good without them.
    /// </summary>
    private const string Sure = "linearization_level:1";

    private readonly Schedule away = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    /// <summary>
    /// A proven least of the sum; null where none was proven. For a week without facts.
    /// </summary>
    /// <param name="master">Whose columns they are.</param>
    /// <param name="weights">By column of the master; only those of the night count.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="most">Seconds, or units of effort.</param>
    public long? Least(NightMaster master, long[] weights, Budget budget, double most)
    {
        var model = ModelOf(master);
        var columns = Columns(master, model);
        foreach (var (sum, least, highest) in master.Rows.Rows.Take(master.Standing))
            if (master.Rows.NightOf(sum) == night)
                model.Cp.AddLinearConstraint(LinearExpr.WeightedSum(sum.Terms.Select(term => columns[term.Column]!),
                    sum.Terms.Select(term => term.Factor)), least, highest);
        if (model.Impossible) return null;
        var goal = LinearExpr.NewBuilder(columns.Length);
        for (var column = 0; column < columns.Length; column++)
            if (columns[column] is { } here && weights[column] != 0) goal.AddTerm(here, weights[column]);
        model.Cp.Minimize(goal);
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(most, 1)} {Sure}" };
        CpSolverStatus status;
        using (new Stopping(solver, () => budget.Stop.IsCancellationRequested)) status = solver.Solve(model.Cp);
        budget.Use(solver.Response?.DeterministicTime ?? most);
        // Without a solution it may not have begun to prove anything.
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible
            ? (long)Math.Ceiling(solver.BestObjectiveBound - 1e-3) : null;
    }

    private ExactModel ModelOf(NightMaster master)
    {
        var (stints, shifts) = (new bool[problem.Stints.Count], new bool[problem.Crew.Count, problem.Nights.Count]);
        foreach (var (stint, _, _, _) in master.Work.Of(night)) stints[stint.Index] = true;
        foreach (var person in problem.Crew) shifts[person.Index, night] = true;
        var model = new ExactModel(problem, new Freedom
        {
            Around = away, Displays = new bool[problem.Displays.Count], Stints = stints, Hands = stints, Shifts = shifts,
            Nights = [.. problem.Nights.Select(other => other.Index == night)],
        });
        foreach (var job in model.Stints.Where(job => stints[job.Index])) Place(master, model, job);
        foreach (var stint in problem.Stints.Where(stint => stint.Number > 1))
            model.Follow(model.Jobs[stint.Index - 1], model.Jobs[stint.Index], 0);
        // same-night: where both are of one display, the one is in the night if the other is.
        foreach (var edge in known.Windows.Edges)
            if (edge.SameNight && problem.Stints[edge.From].Task.Display == problem.Stints[edge.To].Task.Display)
                model.Same(model.Jobs[edge.From].Present, model.Jobs[edge.To].Present);
        return model.With(AllRules.OfANight, implied: true);
    }

    /// <summary>A stint keeps to the hours that every valid plan keeps it to, and to ways that the master has for it.</summary>
    private void Place(NightMaster master, ExactModel model, ExactJob job)
    {
        var slot = known.Windows.Of(job.Index, night)!.Value;
        foreach (var (_, mode, _, moments) in model.SlotsOf(job))
        {
            moments.AtLeast(model.Up(slot.EarliestStart));
            moments.AtMost(model.Down(slot.LatestEnd) - job.Sizes[mode]);
            if (master.Work.At(job.Index, mode, night) is null) moments.AtMost(long.MinValue);
        }
    }

    /// <summary>By column of the master, what it is in the model; null for those of other nights and of the week.</summary>
    private LinearExpr?[] Columns(NightMaster master, ExactModel model)
    {
        var columns = new LinearExpr?[master.Rows.Columns.Count];
        void Is(Sum? sum, LinearExpr value)
        {
            if (sum is { Terms.Count: > 0 }) columns[sum.Terms[0].Column] = value;
        }
        foreach (var job in model.Stints)
            for (var mode = 0; mode < job.Ways.Count; mode++)
                if (master.Work.At(job.Index, mode, night) is { } at) Is(at, LinearExpr.Term(job.Places[mode, night], 1));
        foreach (var job in model.CleanDowns.Where(job => job.Night == night))
            Is(master.Work.Touched[job.Zone][night], LinearExpr.Term(job.Present, 1));
        foreach (var duty in model.DutiesOn(night))
        {
            Is(master.Crew.On(duty.Person, night), LinearExpr.Term(duty.On, 1));
            Is(master.Crew.Length(duty.Person, night), duty.LengthStep!);
            Is(master.Crew.Break(duty.Person, night), LinearExpr.Term(duty.Break, 1));
        }
        for (var column = 0; column < columns.Length; column++)
            if (master.Rows.Columns[column] is var (least, most, of) && of == night)
                columns[column] ??= model.Cp.NewIntVar(least, most, "");
        return columns;
    }
}
