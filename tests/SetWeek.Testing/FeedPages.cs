using System.Text.Json.Nodes;

namespace SetWeek.Testing;

/// <summary>Follows the feed page by page from its beginning.</summary>
/// <param name="read">Reads the page at an address: its events and its Link header.</param>
/// <param name="limit">Most events of a page.</param>
/// <param name="pause">The time after a page that is not full.</param>
public sealed class FeedPages(Func<string, Task<(JsonArray Events, string Link)>> read, int limit, TimeSpan pause)
{
    private string next = $"/feed?limit={limit}";

    /// <summary>Gives each page to the taker until the token is cancelled, and then what is left.</summary>
    public async Task FollowUntil(CancellationToken end, Action<JsonArray> take)
    {
        while (true)
        {
            // Tested before reading, so that everything written by now is read.
            var last = end.IsCancellationRequested;
            var (events, link) = await read(next);
            take(events);
            next = PageLink.NextOf(link);
            if (last && events.Count == 0) return;
            if (events.Count < limit) await Task.Delay(pause, CancellationToken.None);
        }
    }
}
