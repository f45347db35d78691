using System.Security.Claims;

namespace SetWeek.Service.Access;

/// <summary>The person behind a request, read from the access token. A tenant is a chain of stores.</summary>
public sealed record Caller(string Tenant, string Person, Role Role, IReadOnlyList<string> Stores)
{
    public const string AnyStore = "*", TenantClaim = "tenant", PersonClaim = "sub", RoleClaim = "role", StoresClaim = "stores";

    public bool MayAccess(string store) => Stores.Contains(AnyStore) || Stores.Contains(store);

    public bool HasRole(Permission permission) => permission.Roles.Contains(Role);

    /// <summary>Wages, rates and ages are for those who plan the work and those who pay for it.</summary>
    public bool MaySeeParticulars => Role is Role.Lead or Role.HeadOffice;

    /// <returns>Null if the token lacks a valid tenant, person or role.</returns>
    public static Caller? From(ClaimsPrincipal token) =>
        token.FindFirstValue(TenantClaim) is { } tenant && Ids.IsId(tenant)
        && token.FindFirstValue(PersonClaim) is { } person && Ids.IsId(person)
        && token.FindFirstValue(RoleClaim) is { } text && Roles.Parse(text) is { } role
            ? new Caller(tenant, person, role, [.. token.FindAll(StoresClaim).Select(claim => claim.Value)])
            : null;
}
