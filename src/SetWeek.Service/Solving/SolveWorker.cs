using Marten;
using SetWeek.Service.Clocks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Solving;

/// <summary>
/// Claims requests for plans and searches for them, a few at once. Every node has one; they share the requests by the claim
/// table.
/// </summary>
/// <param name="places">How many leads' searches this node runs at once, and twice as many of batches.</param>
public sealed class SolveWorker(int places, SolveClaims claims, IDocumentStore store, IServiceScopeFactory scopes,
    TimeProvider clock, PlanningClock planning, IHostApplicationLifetime life, ILoggerFactory logs) : BackgroundService
{
    private static readonly TimeSpan PollInterval = TimeSpan.FromMilliseconds(100);

    private readonly ILogger log = logs.CreateLogger("SetWeek.Plans");
    private readonly Heartbeat heartbeat = new(clock);
    private readonly List<(SolveAttempt Attempt, Task Done)> running = [];
    private bool lastPollSucceeded = true;

    protected override async Task ExecuteAsync(CancellationToken stopping)
    {
        // A stopping host first waits for running requests. The searches end at once.
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stopping, life.ApplicationStopping);
        using var timer = new PeriodicTimer(PollInterval, clock);
        Task tick = timer.WaitForNextTickAsync(either.Token).AsTask();
        try
        {
            await claims.AdoptUnfinished(either.Token);
            while (true)
            {
                await Poll(either.Token);
                // A search that ends makes room for the next one at once.
                if (await Task.WhenAny([tick, .. running.Select(solve => solve.Done)]) != tick) continue;
                await tick;
                tick = timer.WaitForNextTickAsync(either.Token).AsTask();
            }
        }
        catch (OperationCanceledException) when (either.IsCancellationRequested)
        {
            // The node stops.
        }
        foreach (var (attempt, _) in running) await attempt.Stop(SolveAttempt.StopReason.NodeStops);
        await Task.WhenAll(running.Select(solve => solve.Done));
        RemoveEnded();
    }

    private async Task Poll(CancellationToken stop)
    {
        try
        {
            RemoveEnded();
            if (running.Count > 0) await Watch(stop);
            while (HasRoom && await claims.IsAnyWaiting(stop)
                && await claims.Claim(Running, stop) is { } claim)
            {
                var attempt = new SolveAttempt(claim, claims, store, scopes, clock, planning, log);
                running.Add((attempt, attempt.Run()));
            }
            if (!HasRoom && running.Exists(solve => solve.Attempt.Claim.Priority == SolvePriority.Batch)
                && await claims.IsAnyWaiting(stop))
                await claims.LetOneYield(stop);
            lastPollSucceeded = true;
        }
        catch (Exception error) when (DatabaseErrors.IsOutage(error))
        {
            if (lastPollSucceeded) log.LogWarning("No plan is claimed: the database does not respond ({Reason})", error.Message);
            lastPollSucceeded = false;
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            // The next poll tries again; the log has it once.
            if (lastPollSucceeded) log.LogError(error, "Requests for plans could not be claimed or watched");
            lastPollSucceeded = false;
        }
    }

    /// <summary>
    /// Stops the searches whose claim is gone or that yield, and ends those that a lead has ended. Passes on what the others have
    /// found.
    /// </summary>
    private async Task Watch(CancellationToken stop)
    {
        var isHeartbeat = heartbeat.IsDue;
        var held = await claims.Held(Running, renew: isHeartbeat, stop);
        if (isHeartbeat) heartbeat.Succeeded();
        foreach (var (attempt, _) in running)
            if (!held.TryGetValue(attempt.Claim, out var signal)) await attempt.Stop(SolveAttempt.StopReason.Lost);
            else if (signal == SearchSignal.Yield) await attempt.Stop(SolveAttempt.StopReason.Yields);
            else if (signal == SearchSignal.Stop) await attempt.EndWithBest();
            else if ((isHeartbeat || !attempt.HasToldBest) && attempt.TakeBest() is { } best)
                await claims.WriteBest(attempt.Claim, best);
    }

    private IReadOnlyList<ClaimedSolve> Running => [.. running.Select(solve => solve.Attempt.Claim)];

    /// <summary>
    /// A lead's search usually has two workers and a batch's one, so it counts as half a place. A lead's search also begins
    /// beside a batch's.
    /// </summary>
    private bool HasRoom =>
        running.Sum(solve => solve.Attempt.Claim.Priority == SolvePriority.Batch ? 1 : 2) < 2 * places;

    private void RemoveEnded()
    {
        foreach (var (attempt, _) in running.Where(solve => solve.Done.IsCompleted)) attempt.Dispose();
        running.RemoveAll(solve => solve.Done.IsCompleted);
    }
}
