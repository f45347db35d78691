using Microsoft.AspNetCore.Authentication.JwtBearer;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;

namespace SetWeek.Service.Access;

/// <summary>
/// Issues and validates signed tokens (RFC 7519, HS256). If OpenID Connect is introduced, this class is no longer needed.
/// </summary>
public static class Tokens
{
    private const string Issuer = "setweek";

    public static string Issue(SymmetricSecurityKey key, Caller caller, DateTimeOffset now, TimeSpan lifetime) =>
        new JsonWebTokenHandler { SetDefaultTimesOnTokenCreation = false }.CreateToken(new SecurityTokenDescriptor
        {
            Issuer = Issuer,
            Audience = Issuer,
            IssuedAt = now.UtcDateTime,
            Expires = (now + lifetime).UtcDateTime,
            SigningCredentials = new SigningCredentials(key, SecurityAlgorithms.HmacSha256),
            Claims = new Dictionary<string, object>
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
        options.TokenValidationParameters = new TokenValidationParameters
        {
            ValidIssuer = Issuer,
            ValidAudience = Issuer,
            IssuerSigningKey = key,
            ValidAlgorithms = [SecurityAlgorithms.HmacSha256],
            RequireExpirationTime = true,
            ClockSkew = TimeSpan.FromSeconds(30),
        };
    }
}
