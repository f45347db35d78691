using System.Diagnostics;
using JasperFx;
using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Clocks;
using SetWeek.Service.Storage;
using Wolverine.Marten;

namespace SetWeek.Service.Solving;

/// <summary>
/// One attempt at a claimed request: reads the input, searches, stores the outcome. No transaction is open during the search. If
/// the node dies, the claim runs out and another attempt follows.
/// </summary>
internal sealed class SolveAttempt(ClaimedSolve claim, SolveClaims claims, IDocumentStore store, IServiceScopeFactory scopes,
    TimeProvider clock, PlanningClock planning, ILogger log) : IDisposable
{
    /// <summary>The longest time limit of a search, and how long it may go on after that before it counts as hung.</summary>
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(PlanLimits.MostSeconds), Hung = TimeSpan.FromMinutes(1);

    private static readonly TimeSpan DatabasePause = TimeSpan.FromSeconds(1);

    private readonly CancellationTokenSource end = new();
    private volatile StopReason? stopped;
    private volatile bool isEnded;
    private volatile ProgressSnapshot? latest;
    private ProgressSnapshot? told;

    /// <summary>
    /// The crew of the input: the sentences of the outcome name these people, also if one has been erased since.
    /// </summary>
    private CrewFile crew = new(claim.Week, []);

    /// <summary>Why a search is stopped before its limit.</summary>
    /// <param name="IsReturned">Whether the request is put back, and not merely left alone.</param>
    public sealed record StopReason(bool IsReturned, bool HasYielded)
    {
        /// <summary>It was withdrawn, or another node has taken it over.</summary>
        public static readonly StopReason Lost = new(IsReturned: false, HasYielded: false);

        public static readonly StopReason NodeStops = new(IsReturned: true, HasYielded: false);
        public static readonly StopReason Yields = new(IsReturned: true, HasYielded: true);
    }

    public ClaimedSolve Claim => claim;

    public void Dispose() => end.Dispose();

    public async Task Stop(StopReason reason)
    {
        if (stopped is not null) return;
        stopped = reason;
        await end.CancelAsync();
    }

    /// <summary>Ends the search before its limit. Its outcome is the best plan so far, with the bounds proven so far.</summary>
    public async Task EndWithBest()
    {
        if (stopped is not null || isEnded) return;
        isEnded = true;
        await end.CancelAsync();
    }

    public bool HasToldBest => told is not null;

    /// <summary>The best plan so far; null if nothing has been found since the last call.</summary>
    public BestSoFar? TakeBest()
    {
        if (latest is not { Best.Goals.Count: > 0 } found || ReferenceEquals(found, told)) return null;
        told = found;
        return new BestSoFar((long)found.After.TotalMilliseconds, found.Best.Goals, found.Options);
    }

    /// <summary>Never throws: what goes wrong is logged, and stored as the outcome where it is a fault of the planner.</summary>
    public async Task Run()
    {
        using var trace = new Activity("solve").Start();
        try
        {
            if (await Begin() is not var (candidate, input)) return;
            log.LogInformation(
                "Solving {Plan} of {Week} for {Tenant}, version {Version}, attempt {Attempt}, asked for in trace {Asked}",
                claim.Plan, claim.Week, claim.Tenant, candidate.WeekVersion, claim.Attempt, candidate.Trace);
            await Conclude(await Search(candidate, input));
        }
        catch (Exception error) when (DatabaseErrors.IsOutage(error))
        {
            log.LogWarning("Solving {Plan} of {Week} for {Tenant} was left: the database does not respond", claim.Plan,
                claim.Week, claim.Tenant);
        }
        catch (Exception error)
        {
            log.LogError(error, "Solving {Plan} of {Week} for {Tenant} ended without an outcome", claim.Plan, claim.Week,
                claim.Tenant);
        }
    }

    private async Task Conclude(IReadOnlyList<CandidatePlan> outcome)
    {
        if (stopped is { } reason)
        {
            if (reason.IsReturned) await claims.Return(claim, reason.HasYielded);
            return;
        }
        if (await Settle(outcome))
            log.LogInformation("Solved {Plan} of {Week} for {Tenant}: {State}", claim.Plan, claim.Week, claim.Tenant,
                outcome[0].State);
    }

    private async Task<IReadOnlyList<CandidatePlan>> Search(CandidatePlan candidate, PlannerInput input)
    {
        end.CancelAfter(Longest);
        try
        {
            var search = Task.Factory.StartNew(() => PlanSearch.Run(candidate, input, found => latest = found,
                    () => stopped is not null, end.Token),
                CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
            var outcome = await search.WaitAsync(Longest + Hung, clock);
            return [.. outcome.Select(plan => plan with
            {
                AfterMilliseconds = (long?)latest?.After.TotalMilliseconds, IsEndedEarly = isEnded,
            })];
        }
        catch (Exception error)
        {
            if (stopped is null)
                log.LogError(error, "Solving {Plan} of {Week} for {Tenant} failed", claim.Plan, claim.Week, claim.Tenant);
            // A plan found before the failure is shown, and is not offered as the answer.
            return [candidate.Fail() with { Plan = latest?.Best, AfterMilliseconds = (long?)latest?.After.TotalMilliseconds }];
        }
    }

    /// <summary>Reads the current input, because facts may have been reported while the request waited.</summary>
    /// <returns>Null if the request is settled, withdrawn or given up.</returns>
    private async Task<(CandidatePlan, PlannerInput)?> Begin()
    {
        await using var session = store.LightweightSession(claim.Tenant);
        var candidate = await session.FindCandidate(claim.Week, claim.Plan, CancellationToken.None);
        var stream = await Streams.Week(session, claim.Week, CancellationToken.None);
        if (candidate is null or { Settled: true } || stream.State is not { } week)
        {
            await claims.Drop(claim);
            return null;
        }
        var started = candidate.Started(claim.Attempt);
        // Two concurrent requests do not see each other. Here the older one, by its id, is cancelled.
        if ((await session.UnfinishedCandidates(week.Id, CancellationToken.None)).Any(other => other.Supersedes(candidate)))
            started = candidate with { State = CandidateState.Cancelled };
        if (started.Settled)
        {
            if (started.State == CandidateState.Failed)
                log.LogError("Giving up {Plan} of {Week} for {Tenant}: the process ended during each of {Attempts} attempts",
                    claim.Plan, claim.Week, claim.Tenant, CandidatePlan.MostAttempts);
            await Settle([started]);
            return null;
        }
        PlannerInput input;
        try
        {
            crew = await session.CrewOf(week.Id, CancellationToken.None);
            // The request may have waited for long, and the reports are those of this moment.
            var now = StoreTime.Local(week, planning.Now) is var current && current > candidate.Now ? current : candidate.Now;
            input = PlanningProblem.Of(week, crew, now);
            candidate = started with
            {
                WeekVersion = stream.Version, InputHash = input.Hash(), Replaces = input.Replan?.Published,
                Progress = input.Replan?.Progress,
                Now = input.Replan?.Now ?? candidate.Now,
            };
        }
        catch (Exception error) when (!DatabaseErrors.IsOutage(error))
        {
            log.LogError(error, "The input of {Plan} of {Week} for {Tenant} cannot be made", claim.Plan, claim.Week,
                claim.Tenant);
            await Settle([started.Fail()]);
            return null;
        }
        session.Store(candidate);
        try
        {
            await session.SaveChangesAsync();
        }
        catch (ConcurrencyException)
        {
            return null; // withdrawn at the same time
        }
        return (candidate, input);
    }

    /// <summary>
    /// Stores the outcome, if the request is still claimed by this attempt. While the database does not respond, it is tried
    /// again until the node stops.
    /// </summary>
    private async Task<bool> Settle(IReadOnlyList<CandidatePlan> outcome)
    {
        while (true)
        {
            try
            {
                await using var session = store.LightweightSession(claim.Tenant);
                await session.BeginTransactionAsync(CancellationToken.None);
                if (!await session.End(claim, claims.Node)) return false;
                // Read in this session, so that a concurrent cancellation is noticed by its version.
                if (await session.LoadAsync<CandidatePlan>(claim.Plan) is not { Settled: false }) return false;
                foreach (var plan in outcome) session.Store(plan.WithMarkedNames(crew));
                await using var scope = scopes.CreateAsyncScope();
                if (outcome[0].Batch is { } batch)
                {
                    var outbox = scope.ServiceProvider.GetRequiredService<IMartenOutbox>();
                    outbox.TenantId = claim.Tenant;
                    outbox.Enroll(session);
                    await outbox.PublishAsync(new BatchPlanSettled(batch, claim.Week, claim.Plan));
                }
                await session.SaveChangesAsync();
                return true;
            }
            catch (ConcurrencyException)
            {
                return false; // withdrawn at the same time
            }
            catch (Exception error) when (DatabaseErrors.IsOutage(error) && stopped is null)
            {
                await Task.Delay(DatabasePause, clock);
            }
        }
    }
}
