using OneOf;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>
/// The Idempotency-Key header: a key that the caller chooses for one POST, so that a repeat has no second effect.
/// </summary>
public sealed record IdempotencyKey(string Key, string Route)
{
    public const string Header = "Idempotency-Key";
    private const int Longest = 200;

    /// <returns>Null if the header is absent, which is allowed; an answer if it is invalid.</returns>
    public static OneOf<IdempotencyKey?, Answer> Of(HttpContext http)
    {
        if (!HttpMethods.IsPost(http.Request.Method)) return (IdempotencyKey?)null;
        var given = http.Features.Get<FormPost>()?.IdempotencyKey ?? http.Request.Headers[Header].FirstOrDefault();
        if (given is not { } key) return (IdempotencyKey?)null;
        if (key.Length is 0 or > Longest || key.Any(character => character is < '!' or > '~'))
            return Refused.With(400, $"{Header} must be 1 to {Longest} printable ASCII characters without spaces.");
        // Routing ignores case and a slash at the end, and ids have no capitals.
        return new IdempotencyKey(key, $"{http.Request.Method} {http.Request.Path.Value!.TrimEnd('/').ToLowerInvariant()}");
    }
}
