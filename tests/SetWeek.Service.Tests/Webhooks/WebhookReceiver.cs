using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace SetWeek.Service.Tests.Webhooks;

/// <summary>A delivery as it was received.</summary>
public sealed record Received(string Path, string Id, long Timestamp, string Signature, string Body, int Answered)
{
    public JsonNode Event => JsonNode.Parse(Body)!;

    public string Subject => (string)Event["subject"]!;

    /// <summary>
    /// Whether one of the signatures is by this secret: Standard Webhooks 1.0.0, "Signature scheme", computed here without the
    /// package that the service uses.
    /// </summary>
    public bool IsSignedBy(string secret)
    {
        var key = Convert.FromBase64String(secret["whsec_".Length..]);
        var expected = Convert.ToBase64String(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes($"{Id}.{Timestamp}.{Body}")));
        return Signature.Split(' ').Contains($"v1,{expected}");
    }
}

/// <summary>A webhook's target on this machine.</summary>
public sealed class WebhookReceiver : IAsyncDisposable
{
    private readonly ConcurrentQueue<Received> received = new();
    private readonly WebApplication app;

    /// <summary>The status to answer; 204 unless set.</summary>
    public Func<Received, int> Answer { get; set; } = _ => 204;

    private WebhookReceiver()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        app = builder.Build();
        app.Run(Take);
    }

    public string Url => app.Urls.Single();

    public int Port => new Uri(Url).Port;

    public IReadOnlyList<Received> All => [.. received];

    public IReadOnlyList<Received> Accepted => [.. received.Where(delivery => delivery.Answered is >= 200 and < 300)];

    public static async Task<WebhookReceiver> Start()
    {
        var receiver = new WebhookReceiver();
        await receiver.app.StartAsync();
        return receiver;
    }

    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task Take(HttpContext http)
    {
        var body = await new StreamReader(http.Request.Body).ReadToEndAsync();
        var headers = http.Request.Headers;
        var delivery = new Received(http.Request.Path, headers["webhook-id"].ToString(),
            long.TryParse(headers["webhook-timestamp"], out var time) ? time : 0, headers["webhook-signature"].ToString(),
            body, 0);
        var status = Answer(delivery);
        received.Enqueue(delivery with { Answered = status });
        http.Response.StatusCode = status;
        http.Response.Headers.Connection = "close"; // so that each delivery needs a connection of its own
        if (status is >= 300 and < 400) http.Response.Headers.Location = $"{Url}/elsewhere";
    }
}
