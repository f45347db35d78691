using Microsoft.IdentityModel.Tokens;
using Npgsql;
using OneOf;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// Links that open a browser session for a person of a demonstration, each once. Whoever can read the signing key can make one,
/// so they are for loopback alone.
/// </summary>
/// <param name="allowed">Whether browsers of this machine alone reach the service.</param>
public sealed class SignInLinks(SymmetricSecurityKey key, NpgsqlDataSource database, TimeProvider clock, bool allowed)
{
    public const string Path = "/sign-in";

    public static readonly TimeSpan Lifetime = TimeSpan.FromMinutes(10);

    public static string Make(SymmetricSecurityKey key, BrowserAddress address, Caller caller, DateTimeOffset now, string id) =>
        $"{address.First}{Path}/{Tokens.IssueLink(key, caller, now, Lifetime, id)}";

    /// <summary>Looks whether a link would open a session. It stays unspent.</summary>
    public async Task<OneOf<SignInLink, LinkFault>> Read(string link, CancellationToken cancelled)
    {
        if (!allowed) return LinkFault.NotHere;
        if ((await Tokens.ReadLink(key, link)).TryPickT1(out var fault, out var known)) return fault;
        await using var find = database.CreateCommand("select 1 from setweek.spent_link where id = @id");
        find.Parameters.AddWithValue("id", known.Id);
        return await find.ExecuteScalarAsync(cancelled) is null ? known : LinkFault.Spent;
    }

    /// <summary>Spends a link. Of several attempts at once, one succeeds.</summary>
    public async Task<bool> Spend(SignInLink link, CancellationToken cancelled)
    {
        await using var spend = database.CreateCommand("""
            delete from setweek.spent_link where until < @now;
            insert into setweek.spent_link (id, until) values (@id, @until) on conflict do nothing returning id
            """);
        // For the tolerance between clocks, an hour longer than the link.
        spend.Parameters.AddWithValue("now", clock.GetUtcNow());
        spend.Parameters.AddWithValue("until", link.Until.AddHours(1));
        spend.Parameters.AddWithValue("id", link.Id);
        return await spend.ExecuteScalarAsync(cancelled) is not null;
    }
}
