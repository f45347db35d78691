using System.Globalization;
using System.Text.Json.Nodes;
using SetWeek.Testing;

namespace SetWeek.Bench.Serving;

/// <summary>Follows the feed and measures how long after its recording each event is read.</summary>
internal sealed class FeedLag(HttpClient client)
{
    private const int Limit = 500;
    private readonly List<double> lags = [];

    public Latencies Lags => Latencies.Of(lags);

    public int Count => lags.Count;

    /// <summary>Reads what is there, and then what comes, until the token is cancelled.</summary>
    public Task Follow(CancellationToken end)
    {
        var atEnd = false;
        return new FeedPages(Read, Limit, TimeSpan.FromMilliseconds(20)).FollowUntil(end, events =>
        {
            var seen = TimeProvider.System.GetUtcNow();
            // What lay there before the measurement is no lag.
            if (atEnd)
                lags.AddRange(events.Select(e => (seen - DateTimeOffset.Parse((string)e!["recordedtime"]!,
                    CultureInfo.InvariantCulture)).TotalMilliseconds));
            atEnd |= events.Count < Limit;
        });
    }

    private async Task<(JsonArray Events, string Link)> Read(string path)
    {
        using var answer = await client.GetAsync(new Uri(path, UriKind.Relative), CancellationToken.None);
        answer.EnsureSuccessStatusCode();
        var events = JsonNode.Parse(await answer.Content.ReadAsStringAsync(CancellationToken.None))!.AsArray();
        return (events, answer.Headers.GetValues("Link").Single());
    }
}
