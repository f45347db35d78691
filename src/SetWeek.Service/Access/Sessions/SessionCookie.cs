using System.Globalization;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.IdentityModel.JsonWebTokens;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// The cookie of a browser session. It holds a random key and nothing else; who is signed in lies in the database
/// (<see cref="SessionTickets"/>).
/// </summary>
public static class SessionCookie
{
    public const string Scheme = "session", SessionClaim = "session", PhoneClaim = "phone", SecureName = "__Host-setweek",
        PlainName = "setweek";

    /// <summary>How long a session lasts. It is not prolonged by use, and covers the longest night.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromHours(12);

    /// <summary>Whether a request came with the cookie, and not with a token.</summary>
    public static bool IsUsedBy(ClaimsPrincipal user) => user.Identity is { AuthenticationType: Scheme, IsAuthenticated: true };

    /// <summary>The id of the session; null for a caller with a token. It is no secret.</summary>
    public static string? IdOf(ClaimsPrincipal user) => user.FindFirstValue(SessionClaim);

    /// <summary>The id of the enrolled phone that the session belongs to; null for any other session.</summary>
    public static string? PhoneOf(ClaimsPrincipal user) => user.FindFirstValue(PhoneClaim);

    public static void Configure(CookieAuthenticationOptions options, SessionTickets tickets, bool secure)
    {
        Configure(options.Cookie, secure ? SecureName : PlainName, secure);
        options.SessionStore = tickets;
        options.ExpireTimeSpan = Lifetime;
        options.SlidingExpiration = false;
        options.Events.OnRedirectToLogin = context => Say(context, 401);
        options.Events.OnRedirectToAccessDenied = context => Say(context, 403);
    }

    /// <summary>
    /// The rules of every cookie. Browsers accept the prefix __Host- only with Secure, Path=/ and without a domain (RFC 6265bis,
    /// section 4.1.3.2), so that no other host and no plain connection can set it.
    /// </summary>
    internal static void Configure(CookieBuilder cookie, string name, bool secure)
    {
        cookie.Name = name;
        cookie.Path = "/";
        cookie.HttpOnly = true;
        cookie.SameSite = SameSiteMode.Lax;
        cookie.SecurePolicy = secure ? CookieSecurePolicy.Always : CookieSecurePolicy.None;
    }

    /// <summary>Opens a session with a key of its own, and closes the session that the browser had before.</summary>
    /// <param name="id">The id of the new session.</param>
    /// <param name="lifetime">How long it lasts, if that is shorter than usual.</param>
    /// <param name="phone">The id of the enrolled phone that it belongs to.</param>
    public static async Task Open(HttpContext http, Caller caller, string id, TimeSpan? lifetime = null, string? phone = null)
    {
        var services = http.RequestServices;
        if (IdOf(http.User) is { } earlier)
            await services.GetRequiredService<SessionTickets>().Close(earlier, http.RequestAborted);
        // A handler of its own: the one of this request has read the earlier cookie and would give its key to the new session.
        await using var scope = services.CreateAsyncScope();
        var handler = await scope.ServiceProvider.GetRequiredService<IAuthenticationHandlerProvider>()
            .GetHandlerAsync(http, Scheme);
        var until = services.GetRequiredService<TimeProvider>().GetUtcNow() + (lifetime < Lifetime ? lifetime.Value : Lifetime);
        await ((IAuthenticationSignInHandler)handler!).SignInAsync(
            PrincipalOf(caller, id, until, phone), new AuthenticationProperties { ExpiresUtc = until });
    }

    private static ClaimsPrincipal PrincipalOf(Caller caller, string id, DateTimeOffset until, string? phone) =>
        new(new ClaimsIdentity(
    [
        new(Caller.TenantClaim, caller.Tenant), new(Caller.PersonClaim, caller.Person), new(Caller.RoleClaim, caller.Role.Text()),
        .. caller.Stores.Select(store => new Claim(Caller.StoresClaim, store)), new(SessionClaim, id),
        .. phone is null ? (Claim[])[] : [new(PhoneClaim, phone)],
        new(JwtRegisteredClaimNames.Exp, until.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture)),
    ], Scheme, Caller.PersonClaim, Caller.RoleClaim));

    private static Task Say(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    }
}
