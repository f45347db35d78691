using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using SetWeek.Service.Json;

namespace SetWeek.Cli.Demo;

/// <summary>A client of the public HTTP API that acts as one person with one token.</summary>
internal sealed class DemoApi(HttpClient http, string token, string person)
{
    private int posted;

    public sealed record Reply(JsonElement Body, byte[] Content, string? Location, string? ETag, string? Next);

    /// <summary>Each request gets its own idempotency key, so that it could be repeated safely after a lost answer.</summary>
    public Task<Reply> Post(string path, object? body, CancellationToken cancelled, string? ifMatch = null)
    {
        var content = body is byte[] file ? file : JsonFormat.Bytes(body ?? new { });
        var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = Json(content) };
        request.Headers.Add("Idempotency-Key", $"{person}.{++posted}");
        if (ifMatch is not null) request.Headers.TryAddWithoutValidation("If-Match", ifMatch);
        return Send(request, cancelled);
    }

    public Task<Reply> Get(string path, CancellationToken cancelled) =>
        Send(new HttpRequestMessage(HttpMethod.Get, path), cancelled);

    private async Task<Reply> Send(HttpRequestMessage request, CancellationToken cancelled)
    {
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        using var answer = await http.SendAsync(request, cancelled);
        var content = await answer.Content.ReadAsByteArrayAsync(cancelled);
        if (!answer.IsSuccessStatusCode)
            throw new DemoStopped($"{request.Method} {request.RequestUri} answered {(int)answer.StatusCode}: {Why(content)}");
        var type = answer.Content.Headers.ContentType?.MediaType ?? "";
        var json = content.Length > 0 && type.EndsWith("json", StringComparison.Ordinal);
        return new Reply(json ? JsonDocument.Parse(content).RootElement : default, content, answer.Headers.Location?.ToString(),
            answer.Headers.ETag?.ToString(), Next(answer));
    }

    private static ByteArrayContent Json(byte[] content) =>
        new(content) { Headers = { ContentType = new MediaTypeHeaderValue("application/json") } };

    /// <summary>The problem details (RFC 9457) as text, with the JSON Pointer of each fault.</summary>
    private static string Why(byte[] content)
    {
        try
        {
            var problem = JsonDocument.Parse(content).RootElement;
            var why = problem.Text("detail") ?? problem.Text("title") ?? "no reason given";
            foreach (var fault in problem.Items("errors")) why += $"\n  {fault.Text("pointer")}: {fault.Text("detail")}";
            foreach (var reason in problem.Items("because")) why += $"\n  {reason}";
            return why;
        }
        catch (JsonException)
        {
            return content.Length == 0 ? "no reason given" : Encoding.UTF8.GetString(content[..Math.Min(content.Length, 500)]);
        }
    }

    /// <summary>The address of a Link with rel=next (RFC 8288).</summary>
    private static string? Next(HttpResponseMessage answer) =>
        answer.Headers.TryGetValues("Link", out var links)
        && links.FirstOrDefault(link => link.Contains("rel=\"next\"")) is { } next
            ? next[(next.IndexOf('<') + 1)..next.IndexOf('>')] : null;
}
