using System.Runtime.ExceptionServices;
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

/// <summary>
/// What is known of a changed week: it has a plan (this one, checked), it has none (proven), or neither was found.
/// </summary>
internal sealed record FeasibilityResult(Problem Problem, bool? Feasible, Schedule? Schedule = null);

/// <summary>
/// Asks of changed weeks whether they have a plan, the cheapest way first: reasoning alone, plans built job by job, and the
/// exact model at the end.
/// </summary>
internal sealed class FeasibilityProbe(Replan? replan, Budget budget)
{
    /// <summary>Of the time for an answer, the share in which a plan is looked for before the exact model is asked.</summary>
    private const double SearchShare = 0.4;

    /// <summary>Of the time for a proof, the share in which it is tried over the nights alone.</summary>
    private const double NightMasterShare = 0.5;

    public Budget Budget => budget;
    public Replan? Replan => replan;

    /// <summary>Milliseconds: mostly that is enough.</summary>
    public FeasibilityResult CheckQuickly(Week week) => Run(week, 0, 0);

    /// <summary>A plan is looked for as long as that, in seconds or units; that there is none is seen only at once.</summary>
    public FeasibilityResult SearchSchedule(Week week, double limit) => Run(week, limit, 0);

    /// <summary>Both are looked for.</summary>
    public FeasibilityResult Decide(Week week, double limit) => Run(week, limit * SearchShare, limit * (1 - SearchShare));

    private FeasibilityResult Run(Week week, double searchLimit, double proofLimit)
    {
        var problem = Problem.Of(week, replan);
        if (budget.Spent) return new(problem, null);
        var certificates = RootPropagation.Of(problem);
        if (certificates.Infeasible) return new(problem, false);
        var incumbent = new Incumbent(problem);
        if (problem.Facts is { } facts) incumbent.Offer(facts.PublishedWithActuals);
        if (incumbent.Best is null) RunWithin(1, part => new HeuristicSearch(problem, incumbent, part).FindFirst());
        var none = incumbent.Best is null && searchLimit + proofLimit > 0
            && (budget.Deterministic || proofLimit == 0 ? RunSequentially(problem, certificates, incumbent, searchLimit, proofLimit)
                : RunConcurrently(problem, certificates, incumbent, searchLimit, proofLimit));
        return new(problem, none ? false : incumbent.Best is null ? null : true, incumbent.Best);
    }

    /// <summary>True where it is proven that there is no plan; so below.</summary>
    private bool RunSequentially(Problem problem, RootPropagation certificates, Incumbent incumbent, double searchLimit, double proofLimit)
    {
        RunWithin(searchLimit, part => new HeuristicSearch(problem, incumbent, part).Find());
        return incumbent.Best is null && (RunWithin(proofLimit * NightMasterShare, part => ProvesNoNightAssignment(problem, certificates, part))
            || RunWithin(proofLimit * (1 - NightMasterShare), part => ProvesNoSchedule(problem, incumbent, part)));
    }

    /// <summary>The exact model on a thread of its own; whichever of the two knows first ends the other.</summary>
    private bool RunConcurrently(Problem problem, RootPropagation certificates, Incumbent incumbent, double searchLimit, double proofLimit)
    {
        using var known = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        ExceptionDispatchInfo? fault = null;
        var none = false;
        var exact = new Thread(() => Guarded(() => ProvesNoSchedule(problem, incumbent, Anew(searchLimit + proofLimit))));
        exact.Start();
        Guarded(() =>
        {
            new HeuristicSearch(problem, incumbent, Anew(searchLimit)).Find();
            return incumbent.Best is null && ProvesNoNightAssignment(problem, certificates, Anew(proofLimit));
        });
        exact.Join();
        fault?.Throw();
        return none;

        Budget Anew(double most) => budget.CreateIndependent(Math.Min(most, Math.Max(0, budget.Remaining)), known.Token);

        void Guarded(Func<bool> proof)
        {
            try
            {
                if (proof()) Volatile.Write(ref none, true);
                if (Volatile.Read(ref none) || incumbent.Best is not null) known.Cancel();
            }
            catch (Exception caught)
            {
                Interlocked.CompareExchange(ref fault, ExceptionDispatchInfo.Capture(caught), null);
            }
        }
    }

    /// <summary>What is done in which night, without times inside a night, does not work out.</summary>
    private static bool ProvesNoNightAssignment(Problem problem, RootPropagation certificates, Budget budget) =>
        new IntegerModelSolver(new NightMaster(problem, certificates).Model, budget).Minimise(new LinearExpression(), budget.Remaining, _ => { }, () => false)
            == SolverStatus.Infeasible;

    /// <summary>No plan is a grave thing to say, and solvers have said it in error: it is asked again another way.</summary>
    private static bool ProvesNoSchedule(Problem problem, Incumbent incumbent, Budget budget)
    {
        var model = new CpWeekModel(problem).With(AllRules.InOrder);
        var run = new CpRun(model, incumbent, budget);
        const string any = "stop_after_first_solution:true";
        return run.Run(budget.Remaining, 1, any) == SolverStatus.Infeasible
            && (model.Infeasible || run.Run(budget.Remaining, 1, $"{any} linearization_level:0") == SolverStatus.Infeasible)
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
