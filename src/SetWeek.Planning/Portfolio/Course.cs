using System.Runtime.ExceptionServices;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Portfolio;

/// <summary>
/// Who searches when. With two workers one betters the plan while the other proves how good it can be; with one they take
/// turns, in an order and with shares that are always the same.
/// </summary>
internal sealed class Course(Problem problem, Certificates certificates, GenerationSearch generation, Incumbent incumbent,
    Budget budget)
{
    /// <summary>Stints up to which the exact model may close the whole week, and is tried before relaxed ones.</summary>
    private const int Small = 70;

    /// <summary>
    /// Stints up to which closing it is worth all the time; above, parts of a plan decided anew soon give more.
    /// </summary>
    private const int Tiny = 25;

    /// <summary>
    /// Of what is left then, the share in which a small week that has a plan is to be closed; with one goal it is all, since no
    /// goal below it waits for a bound.
    /// </summary>
    private const double ToClose = 0.3;

    /// <summary>Taking turns: a plan is bettered until so much of the budget is gone, then proven, then bettered again.</summary>
    private const double TurnToProve = 0.5, TurnToProveSmall = 0.3, TurnBack = 0.85;

    /// <summary>
    /// Until so much is gone before weeks with fewer nights are tried; the share of what is left then for that.
    /// </summary>
    private const double BeforeFewer = 0.1, ToFewer = 0.65;

    /// <summary>Shares of the proving that go to relaxed models: of a small week, and of another.</summary>
    private const double RelaxedFirst = 0.3, Relaxed = 0.7;

    /// <summary>Of what is left then, the share in which the plan is bettered here too before bounds are proven again.</summary>
    private const double PartsBeforeProof = 0.6;

    private readonly Relaxation relaxation = new(problem, certificates, incumbent);
    private bool noPlan;

    private bool IsSmall => problem.Stints.Count <= Small;

    /// <summary>
    /// Searches to the end of the budget, or to a proof. True where it is proven that there is no plan.
    /// </summary>
    /// <param name="giveUp">Ends the budget that this searches with.</param>
    public bool Run(Action giveUp)
    {
        if (certificates.Impossible && incumbent.Best is null) return true;
        if (budget.Workers > 1) Together(giveUp);
        else InTurns();
        return noPlan && incumbent.Best is null;
    }

    private void InTurns()
    {
        if (problem.Stints.Count > Tiny) Better(IsSmall ? TurnToProveSmall : TurnToProve);
        if (budget.Spent) return;
        var part = budget.Part((TurnBack - budget.Share) * budget.Left / (1 - budget.Share));
        Prove(part);
        budget.Use(part.Used);
        if (!noPlan) generation.Improve();
    }

    /// <summary>A fault on either side stops the other and comes out here.</summary>
    private void Together(Action giveUp)
    {
        ExceptionDispatchInfo? fault = null;
        var prover = new Thread(() => Guarded(() =>
        {
            Prove(budget.Part(budget.Left, budget.Workers - 1));
            if (noPlan) giveUp();
        }));
        prover.Start();
        Guarded(() => Better(1));
        prover.Join();
        fault?.Throw();

        void Guarded(Action search)
        {
            try
            {
                search();
            }
            catch (Exception caught)
            {
                Interlocked.CompareExchange(ref fault, ExceptionDispatchInfo.Capture(caught), null);
                giveUp();
            }
        }
    }

    /// <summary>
    /// Where few nights are wanted, a glance at the week as it is, what is left out first of all; then weeks with a night fewer;
    /// then whatever is left to better.
    /// </summary>
    private void Better(double until)
    {
        if (problem.Facts is null && problem.Goals.Any(choice => choice.Goal == "nights"))
        {
            generation.Improve(BeforeFewer);
            var left = (until - budget.Share) / (1 - budget.Share) * budget.Left;
            if (!budget.Spent) new FewerNights(problem, incumbent, budget).Look(left * ToFewer);
        }
        generation.Improve(until);
    }

    /// <summary>
    /// A small week is closed by the exact model if it can be, after a glance at relaxed ones; of another the bounds are
    /// proven first, and with the rest of the time the plan is bettered on this side too.
    /// </summary>
    private void Prove(Budget part)
    {
        noPlan = Relax(part, IsSmall ? RelaxedFirst : Relaxed);
        if (noPlan || part.Spent || incumbent.Closed) return;
        if (IsSmall || incumbent.Best is null)
        {
            var share = incumbent.Best is null || problem.Stints.Count <= Tiny || problem.Goals.Count == 1 ? 1 : ToClose;
            noPlan = ExactSearch.Solve(problem, incumbent, part, part.Left * share) == ExactEnding.NoPlan;
            if (share == 1 && !noPlan && !part.Spent && !incumbent.Closed) noPlan = Relax(part, 1);
            if (share == 1 || noPlan || part.Spent || incumbent.Closed) return;
        }
        // A plan that is better in a goal holds those after it to less: they are proven anew before the end.
        if (IsSmall || problem.Facts is not null || part.Workers > 1)
            LargeNeighbourhoodSearch.Improve(problem, incumbent, part, part.Left * PartsBeforeProof);
        else Beside(part, part.Left * PartsBeforeProof);
        noPlan = Relax(part, 1);
        if (!noPlan && !part.Spent && !incumbent.Closed) LargeNeighbourhoodSearch.Improve(problem, incumbent, part, part.Left);
    }

    /// <summary>
    /// What is proven has come to a stand and the week is not small: ruining goes on from the best plan in a second place, which
    /// then betters it more than exact models of its parts do.
    /// </summary>
    private void Beside(Budget part, double most)
    {
        var own = part.Part(most);
        new GenerationSearch(problem, incumbent, own, beside: true).Improve();
        part.Use(own.Used);
    }

    private bool Relax(Budget part, double share)
    {
        var relaxing = part.Part(part.Left * share);
        var impossible = relaxation.Prove(relaxing);
        part.Use(relaxing.Used);
        return impossible;
    }
}
