using System.Text.RegularExpressions;
using NodaTime;
using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Http.Requests;

/// <summary>Makes a request for a slice from an HTTP request, or the answer that refuses it.</summary>
public static partial class RequestReader
{
    public static async Task<OneOf<Request, Answer>> Read(HttpContext http, Operation operation, TimeProvider clock)
    {
        if (Caller.From(http.User) is not { } caller)
            return Refused.With(403, "Your token does not name a tenant, a person and a known role.", "token-says-too-little");
        if (!caller.HasRole(operation.MayUse))
            return Refused.With(403, $"This is for {string.Join(" or ", operation.MayUse.Roles.Select(Roles.Text))}; "
                + $"your role is {caller.Role.Text()}.", "other-role");
        var route = http.Request.RouteValues.ToDictionary(value => value.Key, value => value.Value as string ?? "");
        if (route.Values.FirstOrDefault(value => !Ids.IsId(value)) is not null)
            return Refused.With(404, "There is nothing here: a part of the address is no id.");
        if (operation.MayUse.Scope == AccessScope.Store && !caller.MayAccess(route["id"])) return Refused.OtherStore(route["id"]);

        var version = ReadVersion(http, operation);
        if (version.IsT1) return version.AsT1;
        var body = operation.Body switch
        {
            null => (OneOf<ReadOnlyMemory<byte>, Answer>)ReadOnlyMemory<byte>.Empty,
            { IsOptional: true } when http.Request.ContentLength is null or 0
                && !http.Request.Headers.ContainsKey("Transfer-Encoding") =>
                new ReadOnlyMemory<byte>("{}"u8.ToArray()),
            _ => await ReadBody(http),
        };
        if (body.IsT1) return body.AsT1;
        return new Request(caller, Instant.FromDateTimeOffset(clock.GetUtcNow()), route, http.Request.Query,
            http.Request.Headers.Accept.ToString())
        {
            Body = body.AsT0,
            Version = version.AsT0,
            Progress = http.RequestServices.GetRequiredService<SolveProgress>(),
            Admission = http.RequestServices.GetRequiredService<Admission>(),
            Cancelled = http.RequestAborted,
        };
    }

    private static OneOf<long, Answer> ReadVersion(HttpContext http, Operation operation)
    {
        if (!operation.IfMatch) return 0;
        var given = http.Request.Headers.IfMatch.ToString();
        if (given == "") return Refused.With(428, "Say which version you decided on: send the ETag that you read as If-Match.");
        return StrongTag().Match(given) is { Success: true } tag ? long.Parse(tag.Groups[1].ValueSpan)
            : Refused.With(400, "If-Match holds no ETag of ours; send the one that you read, in its quotes, and no other.");
    }

    private static async Task<OneOf<ReadOnlyMemory<byte>, Answer>> ReadBody(HttpContext http)
    {
        if (!http.Request.HasJsonContentType())
            return Refused.With(415, "A JSON body is expected; send it with Content-Type: application/json.");
        if (http.Request.ContentLength > JsonCursor.MaxBytes) return TooLarge;
        using var bytes = new MemoryStream();
        try
        {
            await http.Request.Body.CopyToAsync(bytes, http.RequestAborted);
        }
        catch (BadHttpRequestException broken)
        {
            return broken.StatusCode == 413 ? TooLarge : Refused.With(broken.StatusCode, "The body did not arrive whole.");
        }
        return bytes.Length > JsonCursor.MaxBytes ? TooLarge : new ReadOnlyMemory<byte>(bytes.GetBuffer(), 0, (int)bytes.Length);
    }

    private static Answer TooLarge => Refused.With(413, $"The body is larger than {JsonCursor.MaxBytes:N0} bytes.");

    [GeneratedRegex("^\"([0-9]{1,18})\"\\z")]
    private static partial Regex StrongTag();
}
