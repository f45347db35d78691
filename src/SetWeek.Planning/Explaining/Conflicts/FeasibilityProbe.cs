using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining.Conflicts;

/// <summary>Whether a changed week is feasible.</summary>
/// <param name="Problem">The problem of the changed week.</param>
/// <param name="Feasible">True: a checked plan exists; false: proven infeasible; null: not known.</param>
/// <param name="Schedule">The plan, if there is one.</param>
internal sealed record FeasibilityResult(Problem Problem, bool? Feasible, Schedule? Schedule = null);

/// <summary>
/// Decides whether changed weeks are feasible. It uses the cheapest method first: propagation, then heuristic search, then the
/// night master and the CP-SAT model.
/// </summary>
/// <param name="replan">The published plan and the facts since; null before the first publication.</param>
/// <param name="budget">The budget of all questions together.</param>
internal sealed class FeasibilityProbe(Replan? replan, Budget budget)
{
    /// <summary>The share of a decision's limit that heuristic search gets before the proofs.</summary>
    private const double SearchShare = 0.4;

    /// <summary>The share of the proof's limit that the night master gets.</summary>
    private const double NightMasterShare = 0.5;

    /// <summary>
    /// Limit in seconds or effort units of the first heuristic plan. A search that takes longer rarely finds one.
    /// </summary>
    private const double FirstPlanLimit = 0.1;

    private readonly KnownSchedules known = new();

    public Budget Budget => budget;
    public Replan? Replan => replan;

    /// <summary>Propagation and one heuristic plan: takes milliseconds, and usually decides.</summary>
    public FeasibilityResult CheckQuickly(Week week) => Run(week, 0, 0);

    /// <summary>
    /// Searches for a plan, within a limit in seconds or effort units. Only propagation can find infeasibility.
    /// </summary>
    public FeasibilityResult SearchSchedule(Week week, double limit) => Run(week, limit, 0);

    /// <summary>Searches for a plan and for a proof that there is none, within a limit in seconds or effort units.</summary>
    public FeasibilityResult Decide(Week week, double limit) => Run(week, limit * SearchShare, limit * (1 - SearchShare));

    private FeasibilityResult Run(Week week, double searchLimit, double proofLimit)
    {
        var problem = Problem.Of(week, replan);
        if (budget.Spent) return new(problem, null);
        var certificates = RootPropagation.Of(problem);
        if (certificates.Infeasible) return new(problem, false);
        var incumbent = new Incumbent(problem);
        if (problem.Facts is { } facts) incumbent.Offer(facts.PublishedWithActuals);
        known.OfferTo(incumbent, problem);
        if (incumbent.Best is null)
            RunWithin(FirstPlanLimit, part => new HeuristicSearch(problem, incumbent, part).FindFirst());
        var infeasible = incumbent.Best is null && searchLimit + proofLimit > 0
            && (budget.Deterministic || proofLimit == 0
                ? RunSequentially(problem, certificates, incumbent, searchLimit, proofLimit)
                : RunConcurrently(problem, certificates, incumbent, searchLimit, proofLimit));
        if (incumbent.Best is { } found) known.Add(problem, found);
        return new(problem, infeasible ? false : incumbent.Best is null ? null : true, incumbent.Best);
    }

    /// <summary>True if infeasibility is proven.</summary>
    private bool RunSequentially(
        Problem problem, RootPropagation certificates, Incumbent incumbent, double searchLimit, double proofLimit)
    {
        RunWithin(searchLimit, part => new HeuristicSearch(problem, incumbent, part).Find());
        return incumbent.Best is null
            && (RunWithin(proofLimit * NightMasterShare, part => ProvesNoNightAssignment(problem, certificates, part))
            || RunWithin(proofLimit * (1 - NightMasterShare), part => ProvesNoSchedule(problem, incumbent, part)));
    }

    /// <summary>
    /// The CP-SAT model runs on its own thread; search and night master run on the caller's. The first to decide stops the
    /// other. True if infeasibility is proven.
    /// </summary>
    private bool RunConcurrently(
        Problem problem, RootPropagation certificates, Incumbent incumbent, double searchLimit, double proofLimit)
    {
        using var decided = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        var fault = new ThreadFault();
        var infeasible = false;
        var exact = new Thread(() => Guarded(() => ProvesNoSchedule(problem, incumbent, BudgetOf(searchLimit + proofLimit))));
        exact.Start();
        Guarded(() =>
        {
            new HeuristicSearch(problem, incumbent, BudgetOf(searchLimit)).Find();
            return incumbent.Best is null && ProvesNoNightAssignment(problem, certificates, BudgetOf(proofLimit));
        });
        exact.Join();
        fault.Rethrow();
        return infeasible;

        Budget BudgetOf(double limit) =>
            budget.CreateIndependent(Math.Min(limit, Math.Max(0, budget.Remaining)), decided.Token);

        void Guarded(Func<bool> proof) => fault.Guard(() =>
        {
            if (proof()) Volatile.Write(ref infeasible, true);
            if (Volatile.Read(ref infeasible) || incumbent.Best is not null) decided.Cancel();
        });
    }

    /// <summary>True if the night master has no solution: no assignment of stints to nights is possible.</summary>
    private static bool ProvesNoNightAssignment(Problem problem, RootPropagation certificates, Budget budget) =>
        new IntegerModelSolver(new NightMaster(problem, certificates).Model, budget)
            .Minimise(new LinearExpression(), budget.Remaining, _ => { }, () => false)
            == SolverStatus.Infeasible;

    /// <summary>
    /// True if CP-SAT proves infeasibility twice, with different parameters: solvers have reported it wrongly before.
    /// </summary>
    private static bool ProvesNoSchedule(Problem problem, Incumbent incumbent, Budget budget)
    {
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var run = new CpRun(model, incumbent, budget);
        const string firstSolution = "stop_after_first_solution:true";
        return run.Run(budget.Remaining, 1, firstSolution) == SolverStatus.Infeasible
            && (model.Infeasible
                || run.Run(budget.Remaining, 1, $"{firstSolution} linearization_level:0") == SolverStatus.Infeasible)
            && incumbent.Best is null;
    }

    private bool RunWithin(double limit, Func<Budget, bool> search)
    {
        var part = budget.CreateChild(limit);
        var found = search(part);
        budget.Charge(part.Used);
        return found;
    }
}
