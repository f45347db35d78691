using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;

namespace SetWeek.Bench.Serving;

/// <summary>Readers of the live stream, all at once: how long after its recording each of them has an event.</summary>
internal sealed class LiveReaders(HttpClient client)
{
    private readonly Lock gate = new();
    private readonly List<double> lags = [];

    public Latencies Lags => Latencies.Of(lags);

    public int Count => lags.Count;

    /// <returns>Null if the service has no live stream; otherwise a task that ends when the token is cancelled.</returns>
    public async Task<Task?> Open(int readers, CancellationToken end)
    {
        var streams = new List<HttpResponseMessage>();
        for (var reader = 0; reader < readers; reader++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, "/feed/stream?after=now");
            request.Headers.Accept.ParseAdd("text/event-stream");
            var answer = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, end);
            if (answer.StatusCode == HttpStatusCode.NotFound) return null;
            answer.EnsureSuccessStatusCode();
            streams.Add(answer);
        }
        return Task.WhenAll(streams.Select(stream => Follow(stream, TimeProvider.System.GetUtcNow(), end)));
    }

    private async Task Follow(HttpResponseMessage stream, DateTimeOffset since, CancellationToken end)
    {
        using (stream)
        {
            try
            {
                using var lines = new StreamReader(await stream.Content.ReadAsStreamAsync(end));
                while (await lines.ReadLineAsync(end) is { } line)
                {
                    // What was recorded before the reader came is no lag.
                    if (line.StartsWith("data:", StringComparison.Ordinal) && RecordedAt(line[5..]) is { } recorded && recorded > since)
                        lock (gate) lags.Add((TimeProvider.System.GetUtcNow() - recorded).TotalMilliseconds);
                }
            }
            catch (OperationCanceledException)
            {
                // The measurement is over.
            }
        }
    }

    private static DateTimeOffset? RecordedAt(string data) => (string?)JsonNode.Parse(data)?["recordedtime"] is { } text
        ? DateTimeOffset.Parse(text, CultureInfo.InvariantCulture) : null;
}
