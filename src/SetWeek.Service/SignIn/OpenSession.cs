using System.Security.Cryptography;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.SignIn;

namespace SetWeek.Service.SignIn;

/// <summary>
/// Opens a browser session by a sign-in link. GET shows whose it is and a button, because mail programs and chats open links to
/// preview them. The button's POST spends the link.
/// </summary>
internal static class OpenSession
{
    public static Operation Offer { get; } = new("GET", $"{SignInLinks.Path}/{{link}}", "showSignInLink",
        "Shows whose session a sign-in link opens, with a button for it")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = SessionEndpoints.Tag,
        Replies = [Reply.Page("A page with the button")],
        Refusals = [403],
    };

    public static Operation Operation { get; } = new("POST", $"{SignInLinks.Path}/{{link}}", "openSession",
        "Opens a browser session by a sign-in link, once")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = SessionEndpoints.Tag,
        Replies = [new(204, "The session is open, and its cookie is set"),
            new(303, "The same, for a browser: the start follows")],
        Refusals = [403],
    };

    public static async Task<Answer> Show(HttpContext http) => await (await Read(http)).Match(
        link => http.Page<SignInPage, SignedIn>(new(link.Caller, FormToken.Issue(http))),
        fault => Task.FromResult(Refuse(fault)));

    public static async Task<Answer> Run(HttpContext http)
    {
        if (!await FormToken.IsGiven(http)) return Refused.WithoutFormToken;
        var links = http.RequestServices.GetRequiredService<SignInLinks>();
        if ((await Read(http)).TryPickT1(out var fault, out var link)) return Refuse(fault);
        if (!await links.Spend(link, http.RequestAborted)) return Refuse(LinkFault.Spent);
        await SessionCookie.Open(http, link.Caller, RandomNumberGenerator.GetHexString(32, lowercase: true));
        return http.WantsPage() ? Answer.SeeOther(SessionEndpoints.Start) : Answer.NoContent;
    }

    private static Task<OneOf.OneOf<SignInLink, LinkFault>> Read(HttpContext http) =>
        http.RequestServices.GetRequiredService<SignInLinks>()
            .Read(http.GetRouteValue("link") as string ?? "", http.RequestAborted);

    private static Answer Refuse(LinkFault fault) => fault switch
    {
        LinkFault.NotHere => Refused.With(403,
            "Sign-in links open no session here, because other machines reach this service.", "link-not-here"),
        LinkFault.Invalid => Refused.With(403, "This is not a sign-in link of this service. Ask for a new one.", "link-invalid"),
        LinkFault.Expired => Refused.With(403, "The sign-in link has expired. Ask for a new one.", "link-expired"),
        LinkFault.Spent => Refused.With(403, "The sign-in link has been used already. Ask for a new one.", "link-spent"),
    };
}
