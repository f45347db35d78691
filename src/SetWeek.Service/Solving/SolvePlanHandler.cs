using System.Net.Sockets;
using JasperFx;
using Marten;
using Npgsql;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Storage;
using Wolverine;

namespace SetWeek.Service.Solving;

/// <summary>
/// Searches for a requested plan. No transaction is open during the search. The message is handled again after a stop or a
/// crash: an unfinished search then starts again, up to a limit of attempts, and a stored outcome stays.
/// </summary>
public static class SolvePlanHandler
{
    /// <summary>How often the handler checks whether the request was cancelled, possibly on another node.</summary>
    private static readonly TimeSpan CancelPollInterval = TimeSpan.FromMilliseconds(200);

    public static async Task Handle(SolvePlan message, Envelope envelope, IDocumentStore store, SolveProgress progress,
        TimeProvider clock, ILoggerFactory logs, IHostApplicationLifetime life, CancellationToken timeout)
    {
        // A stopping host waits for its handlers before it cancels them. This one stops at once.
        using var stopping = CancellationTokenSource.CreateLinkedTokenSource(timeout, life.ApplicationStopping);
        var stop = stopping.Token;
        var tenant = envelope.TenantId!;
        var log = logs.CreateLogger("SetWeek.Plans");
        if (await Begin(store, tenant, message, log, stop) is not var (candidate, input)) return;
        log.LogInformation("Solving {Plan} of {Week} for {Tenant}, version {Version}", message.Plan, message.Week, tenant,
            candidate.WeekVersion);

        using var end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        end.CancelAfter(SolvePlan.Longest);
        using var solved = new CancellationTokenSource();
        var watching = WatchForCancel(store, tenant, message, clock, end, solved.Token);
        ProgressSnapshot? last = null;
        IReadOnlyList<CandidatePlan> outcome;
        try
        {
            outcome = await Task.Factory.StartNew(() => Solve(candidate, input, found =>
            {
                last = found;
                progress.Report(tenant, message.Plan, found);
            }, end.Token), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
            outcome = [.. outcome.Select(plan => plan with { AfterMilliseconds = (long?)last?.After.TotalMilliseconds })];
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            log.LogError(error, "Solving {Plan} of {Week} for {Tenant} failed", message.Plan, message.Week, tenant);
            // Every plan reported before the failure has passed the check and can be used.
            outcome = [last is not null ? candidate.WithResult(last.Best)
                with { AfterMilliseconds = (long)last.After.TotalMilliseconds }
                : candidate with { State = CandidateState.Failed,
                    Failure = "The planner failed because of an internal error. The log of the service has the details." }];
        }
        finally
        {
            await solved.CancelAsync();
            await watching;
            progress.Remove(tenant, message.Plan);
        }
        // The process is stopping and nobody has cancelled the request: the message is handled again after the next start.
        if (stop.IsCancellationRequested) await ReturnAttempt(store, tenant, candidate.Id);
        stop.ThrowIfCancellationRequested();
        await Settle(store, tenant, outcome);
        log.LogInformation("Solved {Plan} of {Week} for {Tenant}: {State}", message.Plan, message.Week, tenant, outcome[0].State);
    }

    /// <summary>
    /// Searches for a plan or, if one is published, for options. The requested candidate is the first of the result.
    /// </summary>
    private static IReadOnlyList<CandidatePlan> Solve(
        CandidatePlan candidate, PlannerInput input, Action<ProgressSnapshot> report, CancellationToken end)
    {
        var limits = candidate.Limits.ToSearch();
        var week = candidate.Limits.ChancePercent is { } chance ? ChanceOverride.Apply(input.Week, chance) : input.Week;
        var problem = Problem.Of(input.Week, input.Replan);
        if (input.Replan is not { } replan)
        {
            var plan = ChanceOverride.WithOwnGoals(problem, Planner.Plan(week, limits,
                onProgress: found => report(new ProgressSnapshot(found.Elapsed, found.Best, [])), stop: end));
            return [candidate.WithResult(plan, plan.Nights.Count == 0 || end.IsCancellationRequested ? null
                : HoldChance.Of(problem, PlanConverter.ScheduleOf(problem, plan)))];
        }
        var offer = OptionSearch.Find(week, limits, replan, found => report(new ProgressSnapshot(found.Elapsed, found.Best,
            [.. found.Options.Select(option => OfferedOption.Of(candidate.Id, option, problem))])), end);
        if (candidate.Limits.ChancePercent is not null)
            offer = new ReplanOffer(ChanceOverride.WithOwnGoals(problem, offer.Plan),
                [.. offer.Options.Select(option => option with
                {
                    Plan = ChanceOverride.WithOwnGoals(problem, option.Plan),
                    Chance = option.Chance is { } measured ? measured with { AskedPercent = input.Week.Hold.Chance } : null,
                })]);
        return candidate.WithResult(offer, problem);
    }

    /// <summary>Records an attempt and reads the current input.</summary>
    /// <returns>Null if the request is settled, cancelled or given up.</returns>
    private static async Task<(CandidatePlan, PlannerInput)?> Begin(
        IDocumentStore store, string tenant, SolvePlan message, ILogger log, CancellationToken stop)
    {
        await using var session = store.LightweightSession(tenant);
        var candidate = await session.FindCandidate(message.Week, message.Plan, stop);
        var stream = await Streams.Week(session, message.Week, stop);
        if (candidate is null or { Settled: true } || stream.State is not { } week) return null;
        // Two concurrent requests do not see each other. Here the older one, by its id, is cancelled.
        var newer = (await session.UnfinishedCandidates(week.Id, stop))
            .Any(unfinished => string.CompareOrdinal(unfinished.Id, candidate.Id) > 0);
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, stop), candidate.Now);
        // Facts may have been reported while the request was queued, so the input is read again.
        candidate = (newer ? candidate with { State = CandidateState.Cancelled } : candidate.Started()) with
        {
            WeekVersion = stream.Version,
            InputHash = input.Hash(),
            Replaces = input.Replan?.Published, Now = input.Replan?.Now ?? candidate.Now,
        };
        session.Store(candidate);
        try
        {
            await session.SaveChangesAsync(stop);
        }
        catch (ConcurrencyException)
        {
            return null; // cancelled at the same time
        }
        if (candidate.State == CandidateState.Failed)
            log.LogError("Giving up {Plan} of {Week} for {Tenant}: the process ended during each of {Attempts} attempts",
                message.Plan, message.Week, tenant, candidate.Attempts);
        return candidate.Settled ? null : (candidate, input);
    }

    private static async Task WatchForCancel(
        IDocumentStore store, string tenant, SolvePlan message, TimeProvider clock, CancellationTokenSource end,
        CancellationToken solved)
    {
        using var timer = new PeriodicTimer(CancelPollInterval, clock);
        try
        {
            while (await timer.WaitForNextTickAsync(solved))
                if (await IsSettled(store, tenant, message, solved)) await end.CancelAsync();
        }
        catch (OperationCanceledException)
        {
            // The search has ended.
        }
    }

    /// <summary>
    /// Whether the request was cancelled. If the database does not respond, the search goes on and the next poll asks again.
    /// </summary>
    private static async Task<bool> IsSettled(IDocumentStore store, string tenant, SolvePlan message, CancellationToken solved)
    {
        try
        {
            await using var session = store.QuerySession(tenant);
            return await session.FindCandidate(message.Week, message.Plan, solved) is not { Settled: false };
        }
        catch (Exception error) when (error.GetBaseException() is NpgsqlException or SocketException)
        {
            return false;
        }
    }

    /// <summary>Takes back the attempt of an orderly stop. If that cannot be stored, it counts as an attempt.</summary>
    private static async Task ReturnAttempt(IDocumentStore store, string tenant, string plan)
    {
        try
        {
            await using var session = store.LightweightSession(tenant);
            if (await session.LoadAsync<CandidatePlan>(plan) is not { Settled: false } candidate) return;
            session.Store(candidate.WithoutLastAttempt());
            await session.SaveChangesAsync();
        }
        catch (Exception error) when (error is ConcurrencyException
            || error.GetBaseException() is NpgsqlException or SocketException)
        {
            // Cancelled at the same time, or the database has stopped too.
        }
    }

    /// <summary>Stores the outcome, unless the request already has one or was cancelled.</summary>
    private static async Task Settle(IDocumentStore store, string tenant, IReadOnlyList<CandidatePlan> outcome)
    {
        await using var session = store.LightweightSession(tenant);
        if (await session.LoadAsync<CandidatePlan>(outcome[0].Id) is not { Settled: false }) return;
        foreach (var plan in outcome) session.Store(plan);
        try
        {
            await session.SaveChangesAsync();
        }
        catch (ConcurrencyException)
        {
            // Cancelled at the same time.
        }
    }
}
