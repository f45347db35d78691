using System.Security.Cryptography;
using System.Text;
using Microsoft.IdentityModel.Tokens;
using Npgsql;

namespace SetWeek.Service.Access.Sessions;

/// <summary>Whether a PIN is that of its person.</summary>
public enum PinVerdict
{
    Right,
    Wrong,

    /// <summary>After five wrong tries a name is closed for ten minutes. The others are not held up.</summary>
    Closed,

    /// <summary>The person has no PIN yet.</summary>
    None,
}

/// <summary>
/// The PINs of a store's people. A PIN has so few figures that any hash of it could be tried out. So it is first signed with the
/// service's key, which is not in the database, and the tries are limited.
/// </summary>
public sealed class Pins(NpgsqlDataSource database, TimeProvider clock, SymmetricSecurityKey key)
{
    public const int MostTries = 5, Shortest = 4, Longest = 8;

    public static readonly TimeSpan ClosedFor = TimeSpan.FromMinutes(10), PermissionLifetime = TimeSpan.FromMinutes(10);

    /// <summary>OWASP, Password Storage Cheat Sheet: PBKDF2 with HMAC-SHA-256 and 600,000 iterations (from memory).</summary>
    private const int Iterations = 600_000;

    public static bool IsPin(string text) => text.Length is >= Shortest and <= Longest && text.All(char.IsAsciiDigit);

    /// <summary>Sets the PIN of a person whose lead has allowed it, once.</summary>
    /// <returns>False if no lead has, or too long ago.</returns>
    public async Task<bool> Set(Phone phone, string person, string pin, CancellationToken cancelled)
    {
        var salt = RandomNumberGenerator.GetBytes(16);
        await using var set = database.CreateCommand("""
            with spent as (delete from setweek.pin_permission
              where tenant_id = @tenant and store = @store and person = @person and until > @now returning *)
            insert into setweek.pin (tenant_id, store, person, salt, hash, tries)
            select tenant_id, store, person, @salt, @hash, 0 from spent
            on conflict (tenant_id, store, person)
            do update set salt = excluded.salt, hash = excluded.hash, tries = 0, closed_until = null
            returning person
            """);
        AddPerson(set, phone, person);
        set.Parameters.AddWithValue("now", clock.GetUtcNow());
        set.Parameters.AddWithValue("salt", salt);
        set.Parameters.AddWithValue("hash", HashOf(phone, person, pin, salt));
        return await set.ExecuteScalarAsync(cancelled) is not null;
    }

    /// <summary>Compares a PIN. The try is counted before, so that tries at once are limited too.</summary>
    public async Task<PinVerdict> Try(Phone phone, string person, string pin, CancellationToken cancelled)
    {
        byte[] salt, hash;
        await using (var count = database.CreateCommand("""
            update setweek.pin set tries = case when closed_until is null then tries + 1 else 1 end,
              closed_until = case when closed_until is null and tries + 1 >= @most then @closed else null end
            where tenant_id = @tenant and store = @store and person = @person and (closed_until is null or closed_until <= @now)
            returning salt, hash
            """))
        {
            AddPerson(count, phone, person);
            count.Parameters.AddWithValue("most", MostTries);
            count.Parameters.AddWithValue("now", clock.GetUtcNow());
            count.Parameters.AddWithValue("closed", clock.GetUtcNow() + ClosedFor);
            await using var row = await count.ExecuteReaderAsync(cancelled);
            if (!await row.ReadAsync(cancelled))
                return (await WithPin(phone, cancelled)).Contains(person) ? PinVerdict.Closed : PinVerdict.None;
            (salt, hash) = (row.GetFieldValue<byte[]>(0), row.GetFieldValue<byte[]>(1));
        }
        if (!CryptographicOperations.FixedTimeEquals(hash, HashOf(phone, person, pin, salt))) return PinVerdict.Wrong;
        await using var forget = database.CreateCommand("""
            update setweek.pin set tries = 0, closed_until = null
            where tenant_id = @tenant and store = @store and person = @person
            """);
        AddPerson(forget, phone, person);
        await forget.ExecuteNonQueryAsync(cancelled);
        return PinVerdict.Right;
    }

    /// <summary>The people of the phone's store who have a PIN.</summary>
    public Task<IReadOnlySet<string>> WithPin(Phone phone, CancellationToken cancelled) =>
        People("select person from setweek.pin where tenant_id = @tenant and store = @store", phone, cancelled);

    /// <summary>The people whom a lead lets choose a PIN now: a first one, or another in place of one that is forgotten.</summary>
    public Task<IReadOnlySet<string>> MayChoose(Phone phone, CancellationToken cancelled) => People("""
        select person from setweek.pin_permission where tenant_id = @tenant and store = @store and until > @now
        """, phone, cancelled);

    private async Task<IReadOnlySet<string>> People(string query, Phone phone, CancellationToken cancelled)
    {
        await using var read = database.CreateCommand(query);
        read.Parameters.AddWithValue("tenant", phone.Tenant);
        read.Parameters.AddWithValue("store", phone.Store);
        read.Parameters.AddWithValue("now", clock.GetUtcNow());
        await using var rows = await read.ExecuteReaderAsync(cancelled);
        var people = new HashSet<string>(StringComparer.Ordinal);
        while (await rows.ReadAsync(cancelled)) people.Add(rows.GetString(0));
        return people;
    }

    private static void AddPerson(NpgsqlCommand command, Phone phone, string person)
    {
        command.Parameters.AddWithValue("tenant", phone.Tenant);
        command.Parameters.AddWithValue("store", phone.Store);
        command.Parameters.AddWithValue("person", person);
    }

    private byte[] HashOf(Phone phone, string person, string pin, byte[] salt)
    {
        var signed = HMACSHA256.HashData(key.Key, Encoding.UTF8.GetBytes($"pin/{phone.Tenant}/{phone.Store}/{person}/{pin}"));
        return Rfc2898DeriveBytes.Pbkdf2(signed, salt, Iterations, HashAlgorithmName.SHA256, 32);
    }
}
