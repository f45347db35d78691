using System.Text.Json.Nodes;

namespace SetWeek.Bench.Serving;

/// <summary>Follows the feed and measures how long after its recording each event is read.</summary>
internal sealed class FeedReader(HttpClient client)
{
    private readonly List<double> lags = [];

    public Latencies Lags => Latencies.Of(lags);

    public int Count => lags.Count;

    /// <summary>Reads what is there, and then what comes, until the token is cancelled.</summary>
    public async Task Follow(CancellationToken end)
    {
        var (next, atEnd) = ("/feed?limit=500", false);
        while (!end.IsCancellationRequested)
        {
            using var answer = await client.GetAsync(new Uri(next, UriKind.Relative), CancellationToken.None);
            answer.EnsureSuccessStatusCode();
            var events = JsonNode.Parse(await answer.Content.ReadAsStringAsync(CancellationToken.None))!.AsArray();
            var seen = TimeProvider.System.GetUtcNow();
            // What lay there before the measurement is no lag.
            if (atEnd)
                lags.AddRange(events.Select(e => (seen - DateTimeOffset.Parse((string)e!["recordedtime"]!,
                    System.Globalization.CultureInfo.InvariantCulture)).TotalMilliseconds));
            if (events.Count < 500)
            {
                atEnd = true;
                await Task.Delay(20, CancellationToken.None);
            }
            var link = answer.Headers.GetValues("Link").Single();
            next = link[1..link.IndexOf('>')];
        }
    }
}
