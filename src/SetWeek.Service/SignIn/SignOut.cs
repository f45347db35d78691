using Microsoft.AspNetCore.Authentication;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Closes the session of this browser. A caller with a bearer token has none, and nothing happens.</summary>
internal static class SignOut
{
    internal static IReadOnlyList<Reply> Replies { get; } =
        [new(204, "Closed, and the cookie is deleted"), new(303, "The same, for a browser: the start follows")];

    public static Operation Operation { get; } = new("POST", "/sign-out", "signOut", "Closes the session of this browser")
    {
        MayUse = Permission.Everybody(AccessScope.Chain), Tag = SessionEndpoints.Tag, Replies = Replies,
    };

    public static async Task<Answer> Run(HttpContext http, Request request)
    {
        await http.SignOutAsync(SessionCookie.Scheme);
        return Done(http);
    }

    internal static Answer Done(HttpContext http) =>
        http.WantsPage() ? Answer.SeeOther(SessionEndpoints.Start) : Answer.NoContent;
}
