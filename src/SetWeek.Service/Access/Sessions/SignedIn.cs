namespace SetWeek.Service.Access.Sessions;

/// <summary>Who a page is for.</summary>
/// <param name="FormToken">The anti-forgery token for the page's forms; null for a caller with a bearer token.</param>
public sealed record SignedIn(Caller Caller, string? FormToken)
{
    /// <returns>Null if nobody is signed in.</returns>
    public static SignedIn? Of(HttpContext http) => Caller.From(http.User) is not { } caller ? null
        : new SignedIn(caller, SessionCookie.IsUsedBy(http.User) ? Sessions.FormToken.Issue(http) : null);
}
