using Microsoft.AspNetCore.Authentication;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.SignIn;

/// <summary>Closes every browser session of the caller, on every device.</summary>
internal static class SignOutEverywhere
{
    public static Operation Operation { get; } =
        new("POST", "/sign-out/everywhere", "signOutEverywhere", "Closes every browser session of the caller")
        {
            MayUse = Permission.Everybody(AccessScope.Chain), Tag = SessionEndpoints.Tag, Replies = SignOut.Replies,
        };

    public static async Task<Answer> Run(HttpContext http, Request request)
    {
        await http.RequestServices.GetRequiredService<SessionTickets>().CloseAllOf(request.Caller, request.Cancelled);
        await http.SignOutAsync(SessionCookie.Scheme);
        return SignOut.Done(http);
    }
}
