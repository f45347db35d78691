using OneOf;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Idempotency;

/// <summary>The header that makes a repeated POST safe: a name that the caller gives to what it wants done once.</summary>
public sealed record IdempotencyKey(string Key, string Route)
{
    public const string Header = "Idempotency-Key";
    private const int Longest = 200;

    /// <summary>Null where none is given, which is allowed.</summary>
    public static OneOf<IdempotencyKey?, Answer> Of(HttpContext http)
    {
        if (!HttpMethods.IsPost(http.Request.Method) || !http.Request.Headers.TryGetValue(Header, out var given))
            return (IdempotencyKey?)null;
        var key = given.ToString();
        if (key.Length is 0 or > Longest || key.Any(letter => letter is < '!' or > '~'))
            return Refused.With(400, $"{Header} must be 1 to {Longest} letters, digits or signs of ASCII, without blanks.");
        return new IdempotencyKey(key, $"{http.Request.Method} {http.Request.Path}");
    }
}
