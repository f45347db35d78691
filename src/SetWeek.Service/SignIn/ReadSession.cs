using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Says who is signed in. A script asks it for the token that its changes need.</summary>
internal static class ReadSession
{
    /// <param name="Stores">The stores that the caller reaches; "*" for all.</param>
    /// <param name="FormToken">What a change by cookie sends as X-SetWeek-Token; absent for a caller with a bearer token.</param>
    public sealed record View(string Tenant, string Person, string Role, IReadOnlyList<string> Stores, string? FormToken);

    public static Operation Operation { get; } = new("GET", "/session", "readSession", "Says who is signed in")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Tag = SessionEndpoints.Tag,
        Replies = [new(200, "The caller, and the token for changes by cookie", typeof(View))],
    };

    public static Task<Answer> Run(HttpContext http, Request request)
    {
        var (caller, token) = (request.Caller, SignedIn.Of(http)?.FormToken);
        return Task.FromResult(Answer.Ok(new View(caller.Tenant, caller.Person, caller.Role.Text(), caller.Stores, token)));
    }
}
