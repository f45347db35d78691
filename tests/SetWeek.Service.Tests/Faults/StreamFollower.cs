using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Solving;

namespace SetWeek.Service.Tests.Faults;

/// <summary>
/// Head office, which follows the stream of server-sent events. When the stream ends it connects to the next node, from the last
/// event that came.
/// </summary>
internal sealed class StreamFollower(IReadOnlyList<ServiceProcess> nodes)
{
    private readonly ConcurrentQueue<string> seen = new();

    /// <summary>The ids of the events, in the order in which they came.</summary>
    public IReadOnlyCollection<string> Seen => seen;

    /// <summary>How often a new connection was opened.</summary>
    public int Connections { get; private set; }

    public async Task FollowUntil(CancellationToken end)
    {
        string? last = null;
        while (!end.IsCancellationRequested)
            try
            {
                var client = nodes[Connections++ % nodes.Count].HttpClientAs("ada", Role.HeadOffice);
                await using var stream = await EventStreamReader.Open(client, "/feed/stream", last).WaitAsync(end);
                while (await stream.Next().WaitAsync(end) is { } data)
                {
                    seen.Enqueue((string)JsonNode.Parse(data)!["id"]!);
                    last = stream.LastEventId;
                }
            }
            catch (Exception error) when (error is HttpRequestException or IOException or TimeoutException
                or OperationCanceledException)
            {
                await Task.Delay(50, CancellationToken.None);
            }
    }
}
