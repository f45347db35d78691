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
internal sealed record Verdict(Problem Problem, bool? Possible, Schedule? Plan = null);

/// <summary>
/// Asks of changed weeks whether they have a plan, the cheapest way first: reasoning alone, plans built job by job, and the
/// exact model at the end.
/// </summary>
internal sealed class Probe(Replan? replan, Budget budget)
{
    /// <summary>Of the time for an answer, the share in which a plan is looked for before the exact model is asked.</summary>
    private const double Looking = 0.4;

    /// <summary>Of the time for a proof, the share in which it is tried over the nights alone.</summary>
    private const double Nights = 0.5;

    public Budget Budget => budget;
    public Replan? Replan => replan;

    /// <summary>Milliseconds: mostly that is enough.</summary>
    public Verdict Glance(Week week) => Ask(week, 0, 0);

    /// <summary>A plan is looked for as long as that, in seconds or units; that there is none is seen only at once.</summary>
    public Verdict Look(Week week, double most) => Ask(week, most, 0);

    /// <summary>Both are looked for.</summary>
    public Verdict Settle(Week week, double most) => Ask(week, most * Looking, most * (1 - Looking));

    private Verdict Ask(Week week, double looking, double solving)
    {
        var problem = Problem.Of(week, replan);
        if (budget.Spent) return new(problem, null);
        var certificates = Certificates.Of(problem);
        if (certificates.Impossible) return new(problem, false);
        var incumbent = new Incumbent(problem);
        if (problem.Facts is { } facts) incumbent.Offer(facts.AsPublished);
        if (incumbent.Best is null) Within(1, part => new GenerationSearch(problem, incumbent, part).FindFirst());
        var none = incumbent.Best is null && looking + solving > 0
            && (budget.Deterministic || solving == 0 ? InTurns(problem, certificates, incumbent, looking, solving)
                : Together(problem, certificates, incumbent, looking, solving));
        return new(problem, none ? false : incumbent.Best is null ? null : true, incumbent.Best);
    }

    /// <summary>True where it is proven that there is no plan; so below.</summary>
    private bool InTurns(Problem problem, Certificates certificates, Incumbent incumbent, double looking, double solving)
    {
        Within(looking, part => new GenerationSearch(problem, incumbent, part).Find());
        return incumbent.Best is null && (Within(solving * Nights, part => NoNights(problem, certificates, part))
            || Within(solving * (1 - Nights), part => NoPlan(problem, incumbent, part)));
    }

    /// <summary>The exact model on a thread of its own; whichever of the two knows first ends the other.</summary>
    private bool Together(Problem problem, Certificates certificates, Incumbent incumbent, double looking, double solving)
    {
        using var known = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        ExceptionDispatchInfo? fault = null;
        var none = false;
        var exact = new Thread(() => Guarded(() => NoPlan(problem, incumbent, Anew(looking + solving))));
        exact.Start();
        Guarded(() =>
        {
            new GenerationSearch(problem, incumbent, Anew(looking)).Find();
            return incumbent.Best is null && NoNights(problem, certificates, Anew(solving));
        });
        exact.Join();
        fault?.Throw();
        return none;

        Budget Anew(double most) => budget.Anew(Math.Min(most, Math.Max(0, budget.Left)), known.Token);

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
    private static bool NoNights(Problem problem, Certificates certificates, Budget part) =>
        new RowSolver(new NightMaster(problem, certificates).Rows, part).Minimise(new Sum(), part.Left, _ => { }, () => false)
            == RowSolver.Ending.Infeasible;

    /// <summary>No plan is a grave thing to say, and solvers have said it in error: it is asked again another way.</summary>
    private static bool NoPlan(Problem problem, Incumbent incumbent, Budget part)
    {
        var model = new ExactModel(problem).With(AllRules.InOrder);
        var run = new ExactRun(model, incumbent, part);
        const string any = "stop_after_first_solution:true";
        return run.Run(part.Left, 1, any) == RunEnding.Impossible
            && (model.Impossible || run.Run(part.Left, 1, $"{any} linearization_level:0") == RunEnding.Impossible)
            && incumbent.Best is null;
    }

    private bool Within(double most, Func<Budget, bool> search)
    {
        var part = budget.Part(most);
        var found = search(part);
        budget.Use(part.Used);
        return found;
    }
}
