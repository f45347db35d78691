using SetWeek.Domain;
using SetWeek.Model.Json;
using SetWeek.Service.Access;

namespace SetWeek.Service.Http.Answers;

/// <summary>Creates the answers that refuse a request, as problem details (RFC 9457).</summary>
public static class Refused
{
    public const string ContentType = "application/problem+json";

    /// <summary>The code of a change that came with a cookie and without the token of a page.</summary>
    public const string NoFormToken = "no-form-token";

    /// <summary>The code of a form with several reports of which some are recorded and some are not.</summary>
    public const string SomeRefused = "some-refused";

    /// <summary>
    /// A decision of the domain refused: 404 if the request names something unknown, 403 if somebody else may decide it,
    /// otherwise 409.
    /// </summary>
    public static Answer For(Refusal refusal) => For(refusal, []);

    /// <param name="faults">What is wrong in the body besides.</param>
    public static Answer For(Refusal refusal, IReadOnlyList<Fault> faults)
    {
        var status = refusal.Unknown ? 404 : refusal.IsForbidden ? 403 : 409;
        return Create(new ProblemDetails("about:blank", Title(status), status, refusal.Sentence)
        {
            Code = refusal.Code,
            Because = refusal.Because.Count > 0 ? refusal.Because : null,
            Errors = faults.Count > 0 ? faults : null,
        });
    }

    /// <summary>The body is invalid; the answer lists every fault.</summary>
    public static Answer For(FaultReport faults, int status = 400) => Create(new ProblemDetails(
        "about:blank", Title(status), status,
        faults.All.Count == 1 ? "The request has 1 fault; correct it and send it again."
            : $"The request has {faults.All.Count} faults; correct them and send it again.")
    {
        Errors = faults.All,
        OnPage = faults.All.Count == 1 ? "One thing is not right; correct it and send the form again."
            : $"{faults.All.Count} things are not right; correct them and send the form again.",
    });

    /// <summary>The thing does not exist, or the caller may not know that it does.</summary>
    /// <param name="kind">What was named: "week", "plan", "person".</param>
    public static Answer Missing(string kind, string id) => With(404, $"There is no {kind} {id}.");

    public static Answer OtherRole(Permission needed, Caller caller) =>
        Create(new ProblemDetails("about:blank", Title(403), 403,
            $"This needs the role {string.Join(" or ", needed.Roles.Select(Roles.Text))}; your role is {caller.Role.Text()}.")
        {
            Code = "other-role",
            OnPage = $"This is for {Roles.People(needed.Roles)}. You are signed in as {caller.Role.Person()}.",
        });

    public static Answer OtherStore(string store) =>
        Create(new ProblemDetails("about:blank", Title(403), 403, $"Your token gives no access to the store {store}.")
        {
            Code = "other-store", OnPage = $"You are not signed in for the store {store}.",
        });

    /// <summary>A request without a token or a session that is valid now.</summary>
    /// <param name="isForm">Whether it is the form of a page. Whoever sent it was signed in when they opened the page.</param>
    public static Answer NotSignedIn(bool isForm) => Create(new ProblemDetails("about:blank", Title(401), 401,
        "Nobody is signed in. Open your sign-in link in this browser; a program sends a bearer token. "
        + "ops/setweek token makes both.")
    {
        OnPage = isForm
            ? "Nobody is signed in here any more, so nothing was kept. Sign in again in another tab, then go back to the page "
                + "and put it in again."
            : "Nobody is signed in. Open your sign-in link in this browser. On a phone of the store, pick your name and give "
                + "your PIN.",
    });

    /// <summary>A change that came with a cookie and without the token of a page.</summary>
    public static Answer WithoutFormToken => Create(new ProblemDetails("about:blank", Title(403), 403,
        "The request does not come from a page of this service that is still current. Load the page again, then repeat it.")
    {
        Code = NoFormToken,
        OnPage = "The page was opened in an earlier session, so nothing was kept. Go back to the page and put it in again.",
    });

    /// <summary>A key came again with another body: on a page, somebody went back, changed the form and sent it again.</summary>
    public static Answer KeyReused => Create(new ProblemDetails("about:blank", Title(422), 422,
        "This Idempotency-Key was already used with another body. Give each request its own key.")
    {
        Code = "key-reused",
        OnPage = "This form was sent before with other content. Look whether that is enough; if not, open the page anew "
            + "and put it in.",
    });

    /// <param name="current">The current version.</param>
    public static Answer Stale(long current) => Create(new ProblemDetails("about:blank", Title(412), 412,
        $"It has changed since you read it; its version is now {current}. Read it again, then decide again.")
    {
        Code = "stale", OnPage = "It has changed since you opened this page. Read it again, then decide again.",
    });

    public static Answer With(int status, string detail, string? code = null) =>
        Create(new ProblemDetails("about:blank", Title(status), status, detail) { Code = code });

    private static Answer Create(ProblemDetails problem) =>
        Answer.Json(problem.Status, problem) with { ContentType = ContentType, Problem = problem };

    private static string Title(int status) => status switch
    {
        400 => "Bad request",
        401 => "Not signed in",
        403 => "Not allowed",
        404 => "Not found",
        405 => "Method not allowed",
        406 => "Not acceptable",
        408 => "Request timeout",
        409 => "Conflict",
        412 => "Changed since read",
        413 => "Too large",
        415 => "Not JSON",
        422 => "Cannot be processed",
        428 => "If-Match is missing",
        500 => "Internal error",
        503 => "Unavailable",
        _ => "Refused",
    };
}
