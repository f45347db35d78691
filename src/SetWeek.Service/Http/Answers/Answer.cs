using System.Globalization;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>What a slice answers, complete before anything is committed, so that it can be kept for a repeated request.</summary>
public sealed record Answer(int Status)
{
    public ReadOnlyMemory<byte> Content { get; init; }
    public string? ContentType { get; init; }
    public string? Location { get; init; }
    public string? ETag { get; init; }

    /// <summary>RFC 8288.</summary>
    public string? Link { get; init; }

    /// <summary>When it is worth another try; sent in whole seconds.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>Sent when the command's changes are committed, and only then.</summary>
    public IReadOnlyList<object> Messages { get; init; } = [];

    public bool IsRefusal => Status >= 400;

    public static Answer NoContent { get; } = new(204);

    public static Answer Ok<T>(T body) => Json(200, body);

    public static Answer Created<T>(string location, T body) => Json(201, body) with { Location = location };

    public static Answer Accepted<T>(string location, T body) => Json(202, body) with { Location = location };

    public static Answer Text(string text, string contentType) =>
        new(200) { Content = System.Text.Encoding.UTF8.GetBytes(text), ContentType = contentType };

    public static Answer Json<T>(int status, T body) =>
        new(status) { Content = JsonFormat.Bytes(body), ContentType = "application/json" };

    /// <summary>The stream's version, which If-Match asks for.</summary>
    public Answer WithVersion(long version) => this with { ETag = $"\"{version.ToString(CultureInfo.InvariantCulture)}\"" };

    public async Task Send(HttpContext http)
    {
        var response = http.Response;
        response.StatusCode = Status;
        if (Location is not null) response.Headers.Location = Location;
        if (ETag is not null) response.Headers.ETag = ETag;
        if (Link is not null) response.Headers.Link = Link;
        if (RetryAfter is { } later)
            response.Headers.RetryAfter = Math.Ceiling(later.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        response.Headers.CacheControl = "no-store";
        response.Headers.XContentTypeOptions = "nosniff";
        // A page of ours brings its own style and nothing else: whatever slipped into it is not run.
        if (ContentType?.StartsWith("text/html", StringComparison.Ordinal) == true)
            response.Headers.ContentSecurityPolicy =
                "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
        if (Status is 204 or 304) return;
        if (ContentType is not null) response.ContentType = ContentType;
        response.ContentLength = Content.Length;
        if (!HttpMethods.IsHead(http.Request.Method)) await response.Body.WriteAsync(Content, http.RequestAborted);
    }
}
