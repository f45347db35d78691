using System.Security.Cryptography;
using System.Text;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Npgsql;
using NpgsqlTypes;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// The open browser sessions, in PostgreSQL: every node finds them, and a deleted row closes its session at once. A row is found
/// by the hash of the cookie's key, so that nobody can make a cookie of what the database holds.
/// </summary>
public sealed class SessionTickets(NpgsqlDataSource database, TimeProvider clock) : ITicketStore
{
    /// <summary>Stores a session, and deletes those that have ended.</summary>
    /// <returns>The key for the cookie.</returns>
    public async Task<string> StoreAsync(AuthenticationTicket ticket)
    {
        var key = RandomNumberGenerator.GetHexString(64, lowercase: true);
        var caller = CallerOf(ticket);
        await using var store = database.CreateCommand("""
            delete from setweek.browser_session where until < @now;
            insert into setweek.browser_session (key_hash, id, tenant_id, person, phone, opened, until, ticket)
            values (@key, @id, @tenant, @person, @phone, @now, @until, @ticket)
            """);
        store.Parameters.AddWithValue("key", HashOf(key));
        store.Parameters.AddWithValue("id", SessionCookie.IdOf(ticket.Principal)!);
        store.Parameters.AddWithValue("tenant", caller.Tenant);
        store.Parameters.AddWithValue("person", caller.Person);
        store.Parameters.AddWithValue("phone", NpgsqlDbType.Text,
            (object?)ticket.Principal.FindFirst(SessionCookie.PhoneClaim)?.Value ?? DBNull.Value);
        store.Parameters.AddWithValue("now", clock.GetUtcNow());
        store.Parameters.AddWithValue("until", EndOf(ticket));
        store.Parameters.AddWithValue("ticket", TicketSerializer.Default.Serialize(ticket));
        await store.ExecuteNonQueryAsync();
        return key;
    }

    public async Task RenewAsync(string key, AuthenticationTicket ticket)
    {
        await using var renew = database.CreateCommand(
            "update setweek.browser_session set until = @until, ticket = @ticket where key_hash = @key");
        renew.Parameters.AddWithValue("key", HashOf(key));
        renew.Parameters.AddWithValue("until", EndOf(ticket));
        renew.Parameters.AddWithValue("ticket", TicketSerializer.Default.Serialize(ticket));
        await renew.ExecuteNonQueryAsync();
    }

    public async Task<AuthenticationTicket?> RetrieveAsync(string key)
    {
        await using var read = database.CreateCommand(
            "select ticket from setweek.browser_session where key_hash = @key and until > @now");
        read.Parameters.AddWithValue("key", HashOf(key));
        read.Parameters.AddWithValue("now", clock.GetUtcNow());
        return await read.ExecuteScalarAsync() is byte[] ticket ? TicketSerializer.Default.Deserialize(ticket) : null;
    }

    public async Task RemoveAsync(string key)
    {
        await using var remove = database.CreateCommand("delete from setweek.browser_session where key_hash = @key");
        remove.Parameters.AddWithValue("key", HashOf(key));
        await remove.ExecuteNonQueryAsync();
    }

    /// <summary>Closes one session, by its id.</summary>
    public async Task Close(string id, CancellationToken cancelled)
    {
        await using var close = database.CreateCommand("delete from setweek.browser_session where id = @id");
        close.Parameters.AddWithValue("id", id);
        await close.ExecuteNonQueryAsync(cancelled);
    }

    /// <summary>Closes every session of a person.</summary>
    public async Task CloseAllOf(Caller caller, CancellationToken cancelled)
    {
        await using var close = database.CreateCommand(
            "delete from setweek.browser_session where tenant_id = @tenant and person = @person");
        close.Parameters.AddWithValue("tenant", caller.Tenant);
        close.Parameters.AddWithValue("person", caller.Person);
        await close.ExecuteNonQueryAsync(cancelled);
    }

    private static Caller CallerOf(AuthenticationTicket ticket) => Caller.From(ticket.Principal)
        ?? throw new InvalidOperationException("A session is opened for a caller.");

    private static DateTimeOffset EndOf(AuthenticationTicket ticket) => ticket.Properties.ExpiresUtc
        ?? throw new InvalidOperationException("A session has an end.");

    private static byte[] HashOf(string key) => SHA256.HashData(Encoding.UTF8.GetBytes(key));
}
