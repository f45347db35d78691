using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authentication.JwtBearer;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.IdentityModel.Tokens;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// How a request says who sends it: by a token in its Authorization header, or else by the cookie of a browser session. Both give
/// the same <see cref="Caller"/> and pass the same checks.
/// </summary>
public static class Authentication
{
    private const string TokenOrSession = "token-or-session", Token = JwtBearerDefaults.AuthenticationScheme;

    /// <param name="key">Signs tokens and sign-in links.</param>
    /// <param name="secure">Whether cookies are for TLS alone.</param>
    public static void Add(IServiceCollection services, SymmetricSecurityKey key, bool secure)
    {
        services.AddSingleton<SessionTickets>().AddSingleton<ProtectionKeys>()
            .AddSingleton<IAntiforgeryAdditionalDataProvider, FormToken>();
        services.AddDataProtection().SetApplicationName("setweek");
        services.AddOptions<KeyManagementOptions>().Configure<ProtectionKeys>((options, keys) => options.XmlRepository = keys);
        services.AddAntiforgery(options => FormToken.Configure(options, secure));
        services.AddOptions<CookieAuthenticationOptions>(SessionCookie.Scheme).Configure<SessionTickets>((options, tickets) =>
            SessionCookie.Configure(options, tickets, secure));
        services.AddAuthentication(TokenOrSession)
            .AddPolicyScheme(TokenOrSession, displayName: null, options =>
            {
                options.ForwardDefaultSelector = http =>
                    http.Request.Headers.ContainsKey("Authorization") ? Token : SessionCookie.Scheme;
                options.ForwardChallenge = options.ForwardForbid = Token;
            })
            .AddJwtBearer(options => Tokens.Configure(options, key))
            .AddCookie(SessionCookie.Scheme);
        // An endpoint without a policy of its own still requires a token or a session.
        services.AddAuthorizationBuilder().SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
    }
}
