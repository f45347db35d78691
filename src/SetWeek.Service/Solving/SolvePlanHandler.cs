using System.Net.Sockets;
using JasperFx;
using Marten;
using Npgsql;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning;
using SetWeek.Planning.Replanning;
using SetWeek.Service.Storage;
using Wolverine;

namespace SetWeek.Service.Solving;

/// <summary>
/// Works a plan out, from a read: no transaction is open while it looks. The message may come again (a stop, a crash): what
/// was not settled is then begun anew, but not for ever; what was settled stays.
/// </summary>
public static class SolvePlanHandler
{
    /// <summary>How often it looks whether the request has been cancelled, by whichever node.</summary>
    private static readonly TimeSpan CancelPollInterval = TimeSpan.FromMilliseconds(200);

    public static async Task Handle(SolvePlan message, Envelope envelope, IDocumentStore store, SolveProgress progress,
        TimeProvider clock, ILoggerFactory logs, IHostApplicationLifetime life, CancellationToken timeout)
    {
        // A stopping host waits for its handlers before it cancels them; this one gives way at once.
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
            outcome = [.. outcome.Select(one => one with { AfterMilliseconds = (long?)last?.After.TotalMilliseconds })];
        }
        catch (Exception wrong) when (wrong is not OperationCanceledException)
        {
            log.LogError(wrong, "Solving {Plan} of {Week} for {Tenant} failed", message.Plan, message.Week, tenant);
            // What was seen before it failed has passed the check, and is as good as any plan.
            outcome = [last is not null ? candidate.WithResult(last.Best)
                with { AfterMilliseconds = (long)last.After.TotalMilliseconds }
                : candidate with { State = CandidateState.Failed,
                    Failure = "The planner failed; this is our fault, and the log has it." }];
        }
        finally
        {
            await solved.CancelAsync();
            await watching;
            progress.Remove(tenant, message.Plan);
        }
        // Stopped with the process and not by anybody's wish: the message comes again.
        if (stop.IsCancellationRequested) await ReturnAttempt(store, tenant, candidate.Id);
        stop.ThrowIfCancellationRequested();
        await Settle(store, tenant, outcome);
        log.LogInformation("Solved {Plan} of {Week} for {Tenant}: {State}", message.Plan, message.Week, tenant, outcome[0].State);
    }

    /// <summary>A plan or, where one is published, options; the candidate that was asked for first.</summary>
    private static IReadOnlyList<CandidatePlan> Solve(
        CandidatePlan candidate, PlannerInput input, Action<ProgressSnapshot> see, CancellationToken end)
    {
        var limits = candidate.Limits.ToLimits();
        if (input.Replan is not { } replan)
            return [candidate.WithResult(Planner.Plan(input.Week, limits,
                onProgress: found => see(new ProgressSnapshot(found.Elapsed, found.Best, [])), stop: end))];
        var problem = Problem.Of(input.Week, replan);
        var offer = OptionSearch.Find(input.Week, limits, replan, found => see(new ProgressSnapshot(found.Elapsed, found.Best,
            [.. found.Options.Select(option => OfferedOption.Of(candidate.Id, option, problem))])), end);
        return candidate.WithResult(offer, problem);
    }

    /// <summary>Null where there is nothing to do any more.</summary>
    private static async Task<(CandidatePlan, PlannerInput)?> Begin(
        IDocumentStore store, string tenant, SolvePlan message, ILogger log, CancellationToken stop)
    {
        await using var session = store.LightweightSession(tenant);
        var candidate = await session.FindCandidate(message.Week, message.Plan, stop);
        var stream = await Streams.Week(session, message.Week, stop);
        if (candidate is null or { Settled: true } || stream.State is not { } week) return null;
        // Two requests at the same moment do not see each other: the newer, by its id, is the one that counts.
        var newer = (await session.UnfinishedCandidates(week.Id, stop))
            .Any(other => string.CompareOrdinal(other.Id, candidate.Id) > 0);
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, stop), candidate.Now);
        // Facts may have come while it waited its turn: it is computed from those of now.
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
            return null; // cancelled this moment
        }
        if (candidate.State == CandidateState.Failed)
            log.LogError("Giving {Plan} of {Week} for {Tenant} up: {Attempts} times it was begun and the process ended",
                message.Plan,
                message.Week, tenant, candidate.Attempts);
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
            // Solved: nothing is left to watch.
        }
    }

    /// <summary>A database that does not answer for a moment is no reason to throw the search away: it is asked again.</summary>
    private static async Task<bool> IsSettled(IDocumentStore store, string tenant, SolvePlan message, CancellationToken solved)
    {
        try
        {
            await using var session = store.QuerySession(tenant);
            return await session.FindCandidate(message.Week, message.Plan, solved) is not { Settled: false };
        }
        catch (Exception wrong) when (wrong.GetBaseException() is NpgsqlException or SocketException)
        {
            return false;
        }
    }

    /// <summary>Where that cannot be stored it stays an attempt.</summary>
    private static async Task ReturnAttempt(IDocumentStore store, string tenant, string plan)
    {
        try
        {
            await using var session = store.LightweightSession(tenant);
            if (await session.LoadAsync<CandidatePlan>(plan) is not { Settled: false } candidate) return;
            session.Store(candidate.WithoutLastAttempt());
            await session.SaveChangesAsync();
        }
        catch (Exception wrong) when (wrong is ConcurrencyException
            || wrong.GetBaseException() is NpgsqlException or SocketException)
        {
            // Cancelled this moment, or the database is gone too.
        }
    }

    /// <summary>Once: an outcome that is there already, or a cancel, is left as it is.</summary>
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
            // Cancelled this moment.
        }
    }
}
