using SetWeek.Domain;
using SetWeek.Model.Json;

namespace SetWeek.Service.Http.Answers;

/// <summary>The answers that refuse a request, in problem details (RFC 9457), whoever refuses it.</summary>
public static class Refused
{
    public const string ContentType = "application/problem+json";

    /// <summary>The state forbids it, or knows nothing of what was named.</summary>
    public static Answer For(Refusal refusal)
    {
        var status = refusal.Unknown ? 404 : 409;
        return Create(new ProblemDetails("about:blank", Title(status), status, refusal.Sentence)
        {
            Code = refusal.Code,
            Because = refusal.Because.Count > 0 ? refusal.Because : null,
        });
    }

    /// <summary>The body is wrong: every fault at once.</summary>
    public static Answer For(FaultReport faults, int status = 400) => Create(new ProblemDetails("about:blank", Title(status), status,
        faults.All.Count == 1 ? "One thing is wrong with what was sent."
            : $"{faults.All.Count} things are wrong with what was sent.")
    {
        Errors = faults.All,
    });

    /// <summary>There is no such thing, or none that the caller may know of.</summary>
    public static Answer Missing(string what, string id) => With(404, $"There is no {what} {id}.");

    public static Answer OtherStore(string store) => With(403, $"Your token does not reach the store {store}.", "other-store");

    public static Answer Stale(long? now) => With(412, now is null
        ? "This has changed since you read it; read it again and decide anew."
        : $"This has changed since you read it and is now at version {now}; read it again and decide anew.", "stale");

    public static Answer With(int status, string detail, string? code = null) =>
        Create(new ProblemDetails("about:blank", Title(status), status, detail) { Code = code });

    private static Answer Create(ProblemDetails problem) =>
        Answer.Json(problem.Status, problem) with { ContentType = ContentType };

    private static string Title(int status) => status switch
    {
        400 => "Bad request",
        401 => "No valid token",
        403 => "Not allowed",
        404 => "Not found",
        405 => "Method not allowed",
        406 => "Not acceptable",
        408 => "Too slow",
        409 => "Refused",
        412 => "Changed meanwhile",
        413 => "Too large",
        415 => "Not JSON",
        422 => "Cannot be done",
        428 => "If-Match is missing",
        500 => "Our fault",
        503 => "Not now",
        _ => "Refused",
    };
}
