using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net.Sockets;
using Marten;
using Npgsql;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Following;

/// <summary>
/// Runs one follower as long as this node holds its lock, and otherwise waits for the lock. The lock's connection also looks for
/// chains with something new, so a node that loses the connection stops at once.
/// </summary>
public sealed class FollowerLoop(
    IFollower follower, IDocumentStore store, FollowerLocks locks, TimeProvider clock, ILogger<FollowerLoop> log)
{
    private const int BatchSize = 500, ChainsAtOnce = 4;

    private static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(100), AfterFailure = TimeSpan.FromSeconds(1),
        LongestWait = TimeSpan.FromMinutes(1);

    /// <summary>The chains that failed: when to try again, and how long to wait after the next failure.</summary>
    private readonly ConcurrentDictionary<string, (DateTimeOffset At, TimeSpan Wait)> failed = new();

    public async Task Run(CancellationToken stopping)
    {
        var isLost = false;
        while (!stopping.IsCancellationRequested)
        {
            try
            {
                await using var connection = await locks.Open(stopping);
                using var timer = new PeriodicTimer(Interval, clock);
                while (!await FollowerLocks.TryTake(connection, follower.Name, stopping))
                    await timer.WaitForNextTickAsync(stopping);
                log.LogInformation("This node runs the follower {Follower}", follower.Name);
                isLost = false;
                await Follow(connection, timer, stopping);
            }
            catch (OperationCanceledException) when (stopping.IsCancellationRequested)
            {
                return;
            }
            catch (Exception error)
            {
                if (!isLost) Tell(error);
                isLost = true;
                await Task.Delay(AfterFailure, clock, stopping).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    private void Tell(Exception error)
    {
        if (error.GetBaseException() is NpgsqlException or SocketException or IOException)
            log.LogWarning("The database does not respond to the follower {Follower}: {Reason}", follower.Name,
                error.GetBaseException().Message);
        else log.LogError(error, "The follower {Follower} was interrupted", follower.Name);
    }

    private async Task Follow(NpgsqlConnection connection, PeriodicTimer timer, CancellationToken stopping)
    {
        while (true)
        {
            var hasMore = false;
            var chains = (await FollowedChains.Ahead(connection, follower.Name, stopping)).Where(IsDue);
            await Parallel.ForEachAsync(chains,
                new ParallelOptions { MaxDegreeOfParallelism = ChainsAtOnce, CancellationToken = stopping },
                async (chain, cancelled) =>
                {
                    if (await TryAdvance(chain, cancelled)) hasMore = true;
                });
            if (!hasMore) await timer.WaitForNextTickAsync(stopping);
        }
    }

    private bool IsDue(string chain) => !failed.TryGetValue(chain, out var until) || until.At <= clock.GetUtcNow();

    /// <summary>A chain that fails holds back itself alone. It is tried again after 1 s, then 2 s, up to a minute.</summary>
    private async Task<bool> TryAdvance(string chain, CancellationToken cancelled)
    {
        using var trace = new Activity("follow").Start();
        try
        {
            var hasMore = await Advance(chain, cancelled);
            failed.TryRemove(chain, out _);
            return hasMore;
        }
        catch (Exception error) when (!cancelled.IsCancellationRequested)
        {
            var wait = failed.TryGetValue(chain, out var before) ? before.Wait : AfterFailure;
            failed[chain] = (clock.GetUtcNow() + wait, wait * 2 < LongestWait ? wait * 2 : LongestWait);
            log.LogError(error, "The follower {Follower} failed in {Tenant}; the next attempt is in {Seconds} s",
                follower.Name, chain, wait.TotalSeconds);
            return false;
        }
    }

    /// <summary>Follows a batch of events of a chain in one transaction. True if more may follow at once.</summary>
    private async Task<bool> Advance(string chain, CancellationToken cancelled)
    {
        await using var session = store.LightweightSession(chain);
        await session.BeginTransactionAsync(cancelled);
        var place = await FollowerPlaces.Lock(session, follower.Name, cancelled);
        var found = await FeedOrder.ReadGiven(session, place, BatchSize, follower.Ignored, cancelled);
        if (found.Entries.Count > 0) await follower.Follow(session, found.Entries, cancelled);
        FollowerPlaces.Store(session, follower.Name, found.End);
        await session.SaveChangesAsync(cancelled);
        return found.Entries.Count == BatchSize;
    }
}
