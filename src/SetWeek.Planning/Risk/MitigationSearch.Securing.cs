using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk;

/// <summary>What would help a chain of tasks that is left half-secured too often.</summary>
public sealed partial class MitigationSearch
{
    private const int MaxSecuringChanges = 2;

    /// <summary>
    /// Tries moves for the chain that a plan leaves half-secured most often. Null if nothing is left half-secured more often than
    /// the target allows, or no new plan is found.
    /// </summary>
    /// <param name="problem">The problem of the plan.</param>
    /// <param name="schedule">The plan.</param>
    /// <param name="chance">Its measured chance.</param>
    /// <param name="limits">Limits of all new plans together.</param>
    /// <param name="stop">Ends the search within 200 ms.</param>
    /// <exception cref="OperationCanceledException">The search was stopped; there is no partial advice.</exception>
    public static SecuringAdvice? Securing(
        Problem problem, Schedule schedule, HoldChance chance, SearchLimits limits, CancellationToken stop = default)
    {
        if (!chance.IsLeftHalfSecured()) return null;
        var search = new MitigationSearch(problem, schedule, new() { Runs = ScreeningRuns }, new Budget(limits, stop))
            { plans = PlansAsItIs + PlansForMoves };
        var advice = search.FindSecuring(chance, search.PlanAsItIs());
        stop.ThrowIfCancellationRequested();
        return advice;
    }

    private SecuringAdvice? FindSecuring(HoldChance chance, MeasuredPlan? asItIs)
    {
        if (asItIs is null || !chance.IsLeftHalfSecured() || chance.HalfSecured is not { } halfSecured) return null;
        var none = new SecuringAdvice(
            halfSecured.Task, halfSecured.Next, chance.SecuredTargetPercent(), asItIs.AsResult(), null, []);
        if (asItIs.Chance.Secured.Share * 100 >= none.TargetPercent) return none;
        var chain = new SameNightChain(problem, unchanged, halfSecured);
        SecuringCandidate[] moves =
        [
            .. chain.EarlierStarts(), .. chain.OtherNights(),
            .. chain.Changes().OrderByDescending(change => HeldScenarios.Of(change.Case.Problem, change.Case.Schedule, Screening)
                .Secured).Take(MaxSecuringChanges),
        ];
        var tried = moves.Zip(PlanAgain([.. moves.Select(move => move.Case)])).ToArray();
        var best = tried.Where(pair => pair.Second is { } plan && plan.LeftOut <= asItIs.LeftOut
                && plan.Chance.Secured.LowerLimit() > asItIs.Chance.Secured.UpperLimit())
            .OrderByDescending(pair => pair.Second!.Chance.Secured.Held).ThenBy(pair => pair.Second!.Cost).ToArray();
        return none with
        {
            Best = best is [var first, ..] ? MoveOf(first) : null,
            Others = [.. tried.Except(best.Take(1)).Select(MoveOf)],
        };
    }

    private static SecuringMove MoveOf((SecuringCandidate Candidate, MeasuredPlan? Plan) tried) =>
        new(tried.Candidate.Sentence, tried.Candidate.Changes, tried.Candidate.Pins, tried.Plan?.AsResult());
}
