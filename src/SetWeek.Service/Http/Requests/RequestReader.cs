using System.Globalization;
using Microsoft.Net.Http.Headers;
using NodaTime;
using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Pages;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Http.Requests;

/// <summary>Reads and checks an HTTP request: the result is a request for a slice, or the answer that refuses it.</summary>
public static class RequestReader
{
    public static async Task<OneOf<Request, Answer>> Read(HttpContext http, Operation operation)
    {
        if (Caller.From(http.User) is not { } caller)
            return Refused.With(403, "Your token must name a tenant, a person and a known role. Ask for a new token.",
                "token-says-too-little");
        if (SessionCookie.IsUsedBy(http.User) && !await FormToken.IsGiven(http)) return Refused.WithoutFormToken;
        if (!caller.HasRole(operation.MayUse)) return Refused.OtherRole(operation.MayUse, caller);
        var route = http.Request.RouteValues.ToDictionary(value => value.Key, value => value.Value as string ?? "");
        if (route.Values.FirstOrDefault(value => !Ids.IsId(value)) is not null)
            return Refused.With(404, "Nothing exists at this address: a part of it is not a valid id.");
        if (operation.MayUse.Scope == AccessScope.Store && !caller.MayAccess(route["id"])) return Refused.OtherStore(route["id"]);

        var form = await FormPost.Of(http);
        if (form is { GivenTwice.Count: > 0 }) return OfFieldsGivenTwice(form);
        if (operation.Photos == PhotoUse.None
            && (form?.Photo is not null || FormPost.IsMultipart(http) && operation.Body is not { IsDocument: true }))
            return Refused.With(415, "The body must be JSON; no photograph is taken here.");
        var version = ReadVersion(form?.IfMatch ?? http.Request.Headers.IfMatch.ToString(), operation);
        if (version.IsT1) return version.AsT1;
        var body = operation.Body switch
        {
            null => (OneOf<ReadOnlyMemory<byte>, Answer>)ReadOnlyMemory<byte>.Empty,
            _ when form is not null => form.Body,
            { IsOptional: true } when http.Request.ContentLength is null or 0
                && !http.Request.Headers.ContainsKey("Transfer-Encoding") =>
                new ReadOnlyMemory<byte>("{}"u8.ToArray()),
            _ => await ReadBody(http),
        };
        if (body.IsT1) return body.AsT1;
        var services = http.RequestServices;
        var clock = services.GetRequiredService<PlanningClock>();
        return new Request(caller, clock.Now,
            Instant.FromDateTimeOffset(services.GetRequiredService<TimeProvider>().GetUtcNow()), route, http.Request.Query,
            http.Request.Headers.Accept)
        {
            Body = body.AsT0,
            Sent = form is not null && operation.Body is not null ? form.Sent : body.AsT0,
            IsForm = form is not null,
            IsOnSharedPhone = SessionCookie.PhoneOf(http.User) is not null,
            Photo = form?.Photo,
            Version = version.AsT0,
            Context = ContextOf(http, form),
            Admission = services.GetRequiredService<Admission>(),
            PlanIds = services.GetRequiredService<PlanIds>(),
            ReportAhead = clock.ReportAhead,
            Origin = services.GetRequiredService<BrowserAddress>().First,
            Outbound = services.GetRequiredService<OutboundRules>(),
            FormToken = () => SignedIn.Of(http)?.FormToken,
            Cancelled = http.RequestAborted,
            LastEventId = http.Request.Headers["Last-Event-ID"].FirstOrDefault(),
        };
    }

    /// <summary>
    /// A page that answers a request with a key is stored, and a repetition gets it again, perhaps in another session. So it is
    /// of none, and has no form that signs out.
    /// </summary>
    private static PageContext ContextOf(HttpContext http, FormPost? form)
    {
        var isStored = HttpMethods.IsPost(http.Request.Method)
            && (form?.IdempotencyKey is not null || http.Request.Headers.ContainsKey(IdempotencyKey.Header));
        return isStored ? PageContexts.Of(http) with { Session = null } : PageContexts.Of(http);
    }

    private static OneOf<long, Answer> ReadVersion(string given, Operation operation)
    {
        if (!operation.IfMatch) return 0;
        if (given == "") return Refused.With(428,
            "The If-Match header is missing. Send the ETag that you read, so that a change made since is noticed.");
        return EntityTagHeaderValue.TryParse(given, out var tag) && !tag.IsWeak
            && long.TryParse(tag.Tag.AsSpan().Trim('"'), NumberStyles.None, CultureInfo.InvariantCulture, out var version)
                ? version
                : Refused.With(400,
                    "If-Match must be exactly one ETag that this service sent. Send the one you read, with its quotes.");
    }

    /// <summary>The body of a request, which a page may send as a form.</summary>
    public static async Task<OneOf<ReadOnlyMemory<byte>, Answer>> ReadBodyOrForm(HttpContext http) =>
        await FormPost.Of(http) is not { } form ? await ReadBody(http)
            : form.GivenTwice.Count > 0 ? OfFieldsGivenTwice(form) : form.Body;

    private static Answer OfFieldsGivenTwice(FormPost form) => Refused.For(new FaultReport(
        [.. form.GivenTwice.Select(field => new Fault(JsonPointer.To("", field), "This field is given twice; keep one."))]));

    private static async Task<OneOf<ReadOnlyMemory<byte>, Answer>> ReadBody(HttpContext http)
    {
        if (!http.Request.HasJsonContentType())
            return Refused.With(415, "The body must be JSON; send it with Content-Type: application/json.");
        if (http.Request.ContentLength > JsonCursor.MaxBytes) return TooLarge;
        using var bytes = new MemoryStream();
        var part = new byte[16 * 1024];
        try
        {
            for (int read; (read = await http.Request.Body.ReadAsync(part, http.RequestAborted)) > 0; bytes.Write(part, 0, read))
                if (bytes.Length + read > JsonCursor.MaxBytes) return TooLarge;
        }
        catch (BadHttpRequestException broken)
        {
            return Refused.With(broken.StatusCode, "The body ended early; send it again.");
        }
        return new ReadOnlyMemory<byte>(bytes.GetBuffer(), 0, (int)bytes.Length);
    }

    private static Answer TooLarge =>
        Refused.With(413, $"The body is larger than {JsonCursor.MaxBytes:N0} bytes, the most that is accepted.");
}
