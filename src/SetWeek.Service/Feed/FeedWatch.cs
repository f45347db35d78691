using System.Collections.Concurrent;
using System.Net.Sockets;
using System.Runtime.CompilerServices;
using System.Threading.Channels;
using Marten;
using Npgsql;
using SetWeek.Service.Following;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>
/// The live feed on this node. Each chain that somebody watches is read once, and what is found goes to all who watch it. A
/// watcher first reads what it has missed by itself.
/// </summary>
/// <param name="capacity">
/// Events that may wait for a watcher. One that falls further behind is cut off; it connects again and goes on after the last
/// event that it has received.
/// </param>
public sealed class FeedWatch(
    IDocumentStore store, NpgsqlDataSource database, TimeProvider clock, ILogger<FeedWatch> log, int capacity = 1000)
    : BackgroundService
{
    private const int PageSize = 500, ChainsAtOnce = 4;
    private static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(100), AfterFailure = TimeSpan.FromSeconds(1);
    private readonly ConcurrentDictionary<string, WatchedChain> chains = new();

    /// <summary>An event of the feed as its watchers get it, encoded once for all of them.</summary>
    /// <param name="Subject">The week, store or direction that it is of: "week/first-rain.harbour-street".</param>
    public sealed record WatchedEvent(long Place, string? Subject, StreamEvent Event)
    {
        internal static WatchedEvent Of(FeedItem item) => new(item.Place, item.Event.Subject,
            StreamEvent.Of(FeedCursor.Write(item.Place), FeedEnvelope.Encode(item.Event).Span));
    }

    /// <param name="Start">Events after this place arrive through the channel.</param>
    private sealed record Watcher(long Start, Channel<WatchedEvent> Events);

    private sealed class WatchedChain
    {
        public readonly Lock Gate = new();
        public readonly List<Watcher> Watchers = [];

        /// <summary>The place up to which the watchers have been given the feed.</summary>
        public long Place;

        /// <summary>Whether the last read failed, so that a lasting fault is logged once.</summary>
        public volatile bool IsFailing;
    }

    /// <summary>The events of a chain from a place on, without end. It ends early if the reader falls too far behind.</summary>
    /// <param name="place">The place after which to begin.</param>
    public async IAsyncEnumerable<WatchedEvent> Watch(
        string chain, long place, [EnumeratorCancellation] CancellationToken cancelled)
    {
        var watched = chains.GetOrAdd(chain, _ => new WatchedChain());
        var watcher = Join(watched, await LastPlace(chain, cancelled));
        try
        {
            while (place < watcher.Start)
            {
                FeedPage page;
                await using (var session = store.QuerySession(chain))
                    page = await FeedPage.ReadAfter(session, place, PageSize, cancelled);
                foreach (var item in page.Items.TakeWhile(item => item.Place <= watcher.Start))
                    yield return WatchedEvent.Of(item);
                place = Math.Min(page.End, watcher.Start);
            }
            await foreach (var watchedEvent in watcher.Events.Reader.ReadAllAsync(cancelled))
                if (watchedEvent.Place > place) yield return watchedEvent;
        }
        finally
        {
            lock (watched.Gate) watched.Watchers.Remove(watcher);
        }
    }

    /// <summary>The last place of a chain at this moment.</summary>
    public async Task<long> LastPlace(string chain, CancellationToken cancelled)
    {
        await using var connection = await database.OpenConnectionAsync(cancelled);
        return (await FollowedChains.LastPlaces(connection, [chain], cancelled)).GetValueOrDefault(chain);
    }

    protected override async Task ExecuteAsync(CancellationToken stopping)
    {
        using var timer = new PeriodicTimer(Interval, clock);
        var isLost = false;
        while (await NextLook(timer, stopping))
        {
            try
            {
                await Look(stopping);
                isLost = false;
            }
            catch (Exception error) when (!stopping.IsCancellationRequested)
            {
                if (!isLost && error.GetBaseException() is NpgsqlException or SocketException or IOException)
                    log.LogWarning("The database does not respond to the live feed: {Reason}", error.GetBaseException().Message);
                else if (!isLost) log.LogError(error, "The live feed could not be read");
                isLost = true;
                await Task.Delay(AfterFailure, clock, stopping).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    private static async Task<bool> NextLook(PeriodicTimer timer, CancellationToken stopping)
    {
        try
        {
            return await timer.WaitForNextTickAsync(stopping);
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    /// <summary>Reads the watched chains in which something is new.</summary>
    private async Task Look(CancellationToken cancelled)
    {
        var watched = chains.Where(chain => IsWatched(chain.Value)).Select(chain => chain.Key).ToList();
        if (watched.Count == 0) return;
        IReadOnlyDictionary<string, long> last;
        await using (var connection = await database.OpenConnectionAsync(cancelled))
            last = await FollowedChains.LastPlaces(connection, watched, cancelled);
        await Parallel.ForEachAsync(last.Where(chain => chains[chain.Key].Place < chain.Value),
            new ParallelOptions { MaxDegreeOfParallelism = ChainsAtOnce, CancellationToken = cancelled },
            async (chain, token) => await TryRead(chain.Key, chains[chain.Key], chain.Value, token));
    }

    /// <summary>A chain that cannot be read does not hold back the others. It is tried again at the next look.</summary>
    private async Task TryRead(string chain, WatchedChain watched, long last, CancellationToken cancelled)
    {
        try
        {
            await Read(chain, watched, last, cancelled);
            watched.IsFailing = false;
        }
        catch (Exception error) when (!cancelled.IsCancellationRequested && !DatabaseErrors.IsOutage(error))
        {
            if (!watched.IsFailing) log.LogError(error, "The live feed of {Tenant} could not be read", chain);
            watched.IsFailing = true;
        }
    }

    private async Task Read(string chain, WatchedChain watched, long last, CancellationToken cancelled)
    {
        long place;
        lock (watched.Gate) place = watched.Place;
        await using var session = store.QuerySession(chain);
        while (place < last && IsWatched(watched))
        {
            var page = await FeedPage.ReadAfter(session, place, PageSize, cancelled);
            if (!Give(watched, place, [.. page.Items.Select(WatchedEvent.Of)], page.End)) return;
            place = page.End;
        }
    }

    /// <summary>Gives a page to all watchers. False if the chain is no longer where the page begins.</summary>
    private static bool Give(WatchedChain watched, long from, IReadOnlyList<WatchedEvent> page, long end)
    {
        lock (watched.Gate)
        {
            if (watched.Place != from) return false;
            foreach (var watcher in watched.Watchers.ToList())
            {
                if (page.All(watcher.Events.Writer.TryWrite)) continue;
                watcher.Events.Writer.Complete();
                watched.Watchers.Remove(watcher);
            }
            watched.Place = end;
            return true;
        }
    }

    private Watcher Join(WatchedChain watched, long last)
    {
        lock (watched.Gate)
        {
            // Nobody has watched it, so nobody waits for what lies before.
            if (watched.Watchers.Count == 0) watched.Place = Math.Max(watched.Place, last);
            var watcher = new Watcher(watched.Place, Channel.CreateBounded<WatchedEvent>(capacity));
            watched.Watchers.Add(watcher);
            return watcher;
        }
    }

    private static bool IsWatched(WatchedChain watched)
    {
        lock (watched.Gate) return watched.Watchers.Count > 0;
    }
}
