using System.Net.ServerSentEvents;

namespace SetWeek.Service.Tests;

/// <summary>Reads server-sent events with the parser of the framework, which is not the code that writes them.</summary>
public sealed class EventStreamReader : IAsyncDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);
    private readonly HttpClient client;
    private readonly HttpResponseMessage response;
    private readonly Stream body;
    private readonly IAsyncEnumerator<SseItem<string>> items;
    private readonly SseParser<string> parser;

    private EventStreamReader(HttpClient client, HttpResponseMessage response, Stream body)
    {
        (this.client, this.response, this.body) = (client, response, body);
        parser = SseParser.Create(body);
        items = parser.EnumerateAsync().GetAsyncEnumerator();
    }

    public int Status => (int)response.StatusCode;

    public string? ContentType => response.Content.Headers.ContentType?.MediaType;

    public string LastEventId => parser.LastEventId;

    public static async Task<EventStreamReader> Open(HttpClient client, string path, string? lastEventId)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Accept.ParseAdd("text/event-stream");
        if (lastEventId is not null) request.Headers.Add("Last-Event-ID", lastEventId);
        var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead);
        return new EventStreamReader(client, response, await response.Content.ReadAsStreamAsync());
    }

    /// <summary>The data of the next event; null at the end of the stream.</summary>
    public async Task<string?> Next() =>
        await items.MoveNextAsync().AsTask().WaitAsync(Longest) ? items.Current.Data : null;

    /// <summary>The events up to the end of the stream.</summary>
    public async Task<IReadOnlyList<SseItem<string>>> ToEnd()
    {
        var found = new List<SseItem<string>>();
        while (await items.MoveNextAsync().AsTask().WaitAsync(Longest)) found.Add(items.Current);
        return found;
    }

    public async Task<IReadOnlyList<string>> Next(int count)
    {
        var found = new List<string>();
        while (found.Count < count) found.Add(await Next() ?? throw new EndOfStreamException($"Only {found.Count} events came."));
        return found;
    }

    public async ValueTask DisposeAsync()
    {
        await body.DisposeAsync();
        response.Dispose();
        client.Dispose();
    }
}
