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
internal sealed class OneNight(Problem problem, Certificates known)
{
    /// <summary>Nobody and nothing: whatever is not asked about.</summary>
    private readonly Schedule away = new() { Shifts = [], Work = [], Keyholders = new int?[problem.Nights.Count] };

    private readonly Dictionary<(int, int), Shift> published = problem.Facts!.Published.Shifts
        .DistinctBy(shift => (shift.Person, shift.Night)).ToDictionary(shift => (shift.Person, shift.Night));

    /// <summary>The night of the published plan keeps all that is asked of a night: that needs no solver.</summary>
    public bool StandsAsPublished(int night)
    {
        var plan = problem.Facts!.AsPublished;
        bool IsThere(int one) => one == night || problem.Nights[one].Opens < problem.Facts.Now;
        var there = plan with
        {
            Shifts = [.. plan.Shifts.Where(shift => IsThere(shift.Night))],
            Work = [.. plan.Work.Where(work => IsThere(work.Night))],
            Keyholders = [.. plan.Keyholders.Select((who, one) => IsThere(one) ? who : null)],
        };
        return AllRules.OfANight.All(rule => rule.Check(problem, there).All(breach => breach.OnlyFacts));
    }

    /// <summary>There is no such night at all, or none within <paramref name="atMost"/>; null: not found out.</summary>
    /// <param name="asked">The night and its stints.</param>
    /// <param name="atMost">In changes; null: no matter.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="most">Seconds, or units of effort, at most.</param>
    public bool? Never(NightQuestion asked, long? atMost, Budget budget, double most)
    {
        var (model, sum) = ModelOf(asked);
        if (atMost is { } cap) model.AtMost(sum, cap);
        if (model.Impossible) return true;
        model.Hint(problem.Facts!.Published);
        // Solvers have said it in error: it is asked again another way.
        var status = Run(model, budget, most, "", out _);
        if (status == CpSolverStatus.Infeasible) status = Run(model, budget, most, "linearization_level:0", out _);
        return status switch
        {
            CpSolverStatus.Infeasible => true,
            CpSolverStatus.Optimal or CpSolverStatus.Feasible => false,
            _ => null,
        };
    }

    /// <summary>The least that the night comes to, or what is proven of it.</summary>
    public long Least(NightQuestion asked, Budget budget, double most)
    {
        var (model, sum) = ModelOf(asked);
        if (model.Impossible) return 0;
        model.Hint(problem.Facts!.Published);
        model.Cp.Minimize(sum);
        var status = Run(model, budget, most, "", out var bound);
        return status is CpSolverStatus.Optimal or CpSolverStatus.Feasible ? (long)Math.Ceiling(bound - 1e-6) : 0;
    }

    private static CpSolverStatus Run(ExactModel model, Budget budget, double most, string more, out double bound)
    {
        using var solver = new CpSolver { StringParameters = $"{budget.SatParameters(most, 1)} {more}" };
        using var stopping = new Stopping(solver, () => budget.Stop.IsCancellationRequested);
        var status = solver.Solve(model.Cp);
        if (budget.Deterministic) budget.Use(solver.Response!.DeterministicTime);
        bound = solver.BestObjectiveBound;
        return status;
    }

    private (ExactModel Model, LinearExpr Sum) ModelOf(NightQuestion asked)
    {
        var (stints, shifts) = (new bool[problem.Stints.Count], new bool[problem.Crew.Count, problem.Nights.Count]);
        foreach (var stint in asked.Stays.Concat(asked.Comes)) stints[stint] = true;
        // A night under way has work that waits for its clean-down: it is free as well, and its changes are not counted.
        bool[] free = [.. problem.Nights.Select(night => night.Index == asked.Night
            || (night.Opens < problem.Facts!.Now && night.Closes > problem.Facts.Now))];
        foreach (var person in problem.Crew)
            foreach (var night in problem.Nights) shifts[person.Index, night.Index] = free[night.Index];
        var model = new ExactModel(problem, new Freedom
        {
            Around = away, Displays = new bool[problem.Displays.Count], Stints = stints, Hands = stints, Nights = free,
            Shifts = shifts,
        });
        foreach (var job in model.Stints.Where(job => stints[job.Index] && !job.Begun)) Place(model, job, asked.Night);
        foreach (var stint in asked.Comes) model.Demand(model.Jobs[stint].Present);
        foreach (var stint in problem.Stints.Where(one => one.Number > 1 && stints[one.Index] && stints[one.Index - 1]))
            model.Follow(model.Jobs[stint.Index - 1], model.Jobs[stint.Index], 0);
        model.With(AllRules.OfANight, implied: true);
        if (!known.Crew.Begun(asked.Night)) new NightHands(problem, known, model, asked.Night).Post();
        return (model, Sum(model, asked));
    }

    /// <summary>A stint is in the night or away, and keeps to the hours that every valid plan keeps it to.</summary>
    private void Place(ExactModel model, ExactJob job, int night)
    {
        foreach (var (_, mode, other, _) in model.SlotsOf(job).Where(place => place.Night != night).ToArray())
        {
            model.Deny(job.Nights[other]);
            model.Deny(job.Places[mode, other]);
        }
        if (known.Windows.Of(job.Index, night) is not { } slot)
        {
            model.Deny(job.Present);
            return;
        }
        foreach (var (_, mode, _, moments) in model.SlotsOf(job).Where(place => place.Night == night))
        {
            moments.AtLeast(model.Up(slot.EarliestStart));
            moments.AtMost(model.Down(slot.LatestEnd) - job.Sizes[mode]);
        }
    }

    private LinearExpr Sum(ExactModel model, NightQuestion asked)
    {
        var sum = LinearExpr.NewBuilder(64);
        foreach (var duty in model.DutiesOn(asked.Night))
        {
            var was = published.GetValueOrDefault((duty.Person, duty.Night));
            if (was is not null && was.To <= problem.Facts!.Now) continue;
            ChangesObjective.AddShift(model, problem.Facts!, duty, was, sum);
            if (was is null) sum.AddTerm(duty.On, asked.Extra[duty.Person]);
        }
        foreach (var stint in asked.Stays) sum.Add(asked.Price).AddTerm(model.Jobs[stint].Present, -asked.Price);
        return sum;
    }
}

/// <summary>What is asked of one night: stints that are in it or pay for leaving, and stints that are in it.</summary>
/// <param name="Night">The night.</param>
/// <param name="Stays">Each of these that is not in it costs <paramref name="Price"/>.</param>
/// <param name="Comes">All of these are in it.</param>
/// <param name="Price">In changes.</param>
/// <param name="Extra">By person: what adding them to the night costs besides, being dropped elsewhere for it.</param>
internal sealed record NightQuestion(int Night, IReadOnlyList<int> Stays, IReadOnlyList<int> Comes, int Price,
    IReadOnlyList<int> Extra);
