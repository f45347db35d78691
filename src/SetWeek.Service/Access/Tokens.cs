using Microsoft.AspNetCore.Authentication.JwtBearer;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;
using OneOf;

namespace SetWeek.Service.Access;

/// <summary>
/// Issues and validates signed tokens (RFC 7519, HS256). If OpenID Connect is introduced, this class is no longer needed.
/// </summary>
public static class Tokens
{
    private const string Issuer = "setweek", LinkAudience = "setweek-sign-in";

    public static string Issue(SymmetricSecurityKey key, Caller caller, DateTimeOffset now, TimeSpan lifetime) =>
        Create(key, caller, now, lifetime, Issuer, []);

    /// <summary>Issues the token of a sign-in link. Its audience is another, so that neither does for the other.</summary>
    /// <param name="id">Tells the link from every other.</param>
    public static string IssueLink(SymmetricSecurityKey key, Caller caller, DateTimeOffset now, TimeSpan lifetime, string id) =>
        Create(key, caller, now, lifetime, LinkAudience, [new(JwtRegisteredClaimNames.Jti, id)]);

    /// <summary>Reads the token of a sign-in link.</summary>
    /// <returns>The caller, the id and the end; or whether it is invalid or has expired.</returns>
    public static async Task<OneOf<SignInLink, LinkFault>> ReadLink(SymmetricSecurityKey key, string link)
    {
        var read = await new JsonWebTokenHandler { MapInboundClaims = false }
            .ValidateTokenAsync(link, Validation(key, LinkAudience));
        if (read.Exception is SecurityTokenExpiredException) return LinkFault.Expired;
        return read.IsValid && Caller.From(new(read.ClaimsIdentity)) is { } caller
            && read.ClaimsIdentity.FindFirst(JwtRegisteredClaimNames.Jti) is { } id
                ? new SignInLink(caller, id.Value, read.SecurityToken.ValidTo) : LinkFault.Invalid;
    }

    private static string Create(SymmetricSecurityKey key, Caller caller, DateTimeOffset now, TimeSpan lifetime, string audience,
        IReadOnlyList<KeyValuePair<string, object>> more) =>
        new JsonWebTokenHandler { SetDefaultTimesOnTokenCreation = false }.CreateToken(new SecurityTokenDescriptor
        {
            Issuer = Issuer,
            Audience = audience,
            IssuedAt = now.UtcDateTime,
            Expires = (now + lifetime).UtcDateTime,
            SigningCredentials = new SigningCredentials(key, SecurityAlgorithms.HmacSha256),
            Claims = new Dictionary<string, object>(more)
            {
                [Caller.TenantClaim] = caller.Tenant,
                [Caller.PersonClaim] = caller.Person,
                [Caller.RoleClaim] = caller.Role.Text(),
                [Caller.StoresClaim] = caller.Stores.ToArray(),
            },
        });

    public static void Configure(JwtBearerOptions options, SymmetricSecurityKey key)
    {
        options.MapInboundClaims = false;
        options.TokenValidationParameters = Validation(key, Issuer);
    }

    private static TokenValidationParameters Validation(SymmetricSecurityKey key, string audience) => new()
    {
        ValidIssuer = Issuer,
        ValidAudience = audience,
        IssuerSigningKey = key,
        ValidAlgorithms = [SecurityAlgorithms.HmacSha256],
        RequireExpirationTime = true,
        ClockSkew = TimeSpan.FromSeconds(30),
    };
}
