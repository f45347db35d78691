using System.Globalization;
using System.IO.Compression;
using SetWeek.Service.Http.ServerSent;
using SetWeek.Service.Json;
using SetWeek.Service.Pages.Files;

namespace SetWeek.Service.Http.Answers;

/// <summary>
/// The response of a slice. It is complete before the commit, so that the same transaction can store it for a repeated request.
/// </summary>
public sealed record Answer(int Status)
{
    public ReadOnlyMemory<byte> Content { get; init; }
    public string? ContentType { get; init; }
    public string? Location { get; init; }
    public string? ETag { get; init; }

    /// <summary>The Link header (RFC 8288).</summary>
    public string? Link { get; init; }

    /// <summary>The name under which a browser stores the content, as an attachment (RFC 6266). Null: it is shown.</summary>
    public string? FileName { get; init; }

    /// <summary>How long a browser may keep the content; null: it may not.</summary>
    public string? CacheControl { get; init; }

    /// <summary>Server-sent events in place of the content. The edge sends them once the slice has returned.</summary>
    public IAsyncEnumerable<StreamEvent>? Events { get; init; }

    /// <summary>How long the caller should wait before a retry; sent in whole seconds.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>Messages to send if, and only if, the changes of the command are committed.</summary>
    public IReadOnlyList<object> Messages { get; init; } = [];

    /// <summary>What a refusal says, so that it can be sent as a page too.</summary>
    public ProblemDetails? Problem { get; init; }

    public bool IsRefusal => Status >= 400;

    /// <summary>
    /// What a repeat with the same Idempotency-Key gets in place of this answer, so that a secret in it is not stored; null: the
    /// same answer.
    /// </summary>
    public Answer? ForRepeats { get; init; }

    /// <summary>Whether a repeat with the same Idempotency-Key is run again, as after a refusal.</summary>
    public bool LeavesKeyFree { get; init; }

    public static Answer NoContent { get; } = new(204);

    /// <summary>Sends a browser to the page that shows what its form has done.</summary>
    public static Answer SeeOther(string location) => new(303) { Location = location };

    public static Answer Ok<T>(T body) => Json(200, body);

    public static Answer Created<T>(string location, T body) => Json(201, body) with { Location = location };

    public static Answer Accepted<T>(string location, T body) => Json(202, body) with { Location = location };

    public static Answer Text(string text, string contentType) =>
        new(200) { Content = System.Text.Encoding.UTF8.GetBytes(text), ContentType = contentType };

    /// <param name="csv">With its columns in the first row (RFC 4180).</param>
    public static Answer Table(string csv) => Text(csv, "text/csv; charset=utf-8; header=present");

    /// <param name="document">The whole HTML document.</param>
    public static Answer Page(string document) => Text(document, "text/html; charset=utf-8");

    public static Answer Json<T>(int status, T body) =>
        new(status) { Content = JsonFormat.Bytes(body), ContentType = "application/json" };

    /// <summary>Adds an ETag with the version of the stream, for use in If-Match.</summary>
    public Answer WithVersion(long version) => this with { ETag = $"\"{version.ToString(CultureInfo.InvariantCulture)}\"" };

    public async Task Send(HttpContext http)
    {
        var response = http.Response;
        response.StatusCode = Status;
        if (Location is not null) response.Headers.Location = Location;
        if (ETag is not null) response.Headers.ETag = ETag;
        if (Link is not null) response.Headers.Link = Link;
        if (FileName is not null) response.Headers.ContentDisposition = $"attachment; filename=\"{FileName}\"";
        if (RetryAfter is { } wait)
            response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        response.Headers.CacheControl = CacheControl ?? "no-store";
        response.Headers.XContentTypeOptions = "nosniff";
        // An address may be a sign-in link: it is sent nowhere else.
        response.Headers["Referrer-Policy"] = "same-origin";
        var isPage = ContentType is not null && (ContentType.StartsWith("text/html", StringComparison.Ordinal)
            || ContentType.StartsWith("image/svg+xml", StringComparison.Ordinal));
        // Pages and drawings load files of this service alone, and run nothing that is written into them.
        if (isPage)
            response.Headers.ContentSecurityPolicy =
                "default-src 'none'; style-src 'self'; img-src 'self'; font-src 'self'; script-src 'self'; connect-src 'self'; "
                + "worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
        if (Status is 204 or 304) return;
        if (ContentType is not null) response.ContentType = ContentType;
        var content = Content;
        if (isPage && ContentCoding.For(http) is { } coding)
        {
            response.Headers.ContentEncoding = coding.Name;
            content = coding.Compress(content.Span, CompressionLevel.Optimal);
        }
        response.ContentLength = content.Length;
        if (!HttpMethods.IsHead(http.Request.Method)) await response.Body.WriteAsync(content, http.RequestAborted);
    }
}
