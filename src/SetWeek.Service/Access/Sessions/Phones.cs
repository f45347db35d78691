using System.Security.Cryptography;
using System.Text;
using Npgsql;

namespace SetWeek.Service.Access.Sessions;

/// <summary>
/// The enrolled phones, in PostgreSQL. A phone is known by a random key in a cookie, of which the database holds the hash. A code
/// enrols one phone, within ten minutes.
/// </summary>
/// <param name="secure">Whether cookies are for TLS alone.</param>
public sealed class Phones(NpgsqlDataSource database, TimeProvider clock, bool secure)
{
    public const string SecureName = "__Host-setweek-phone", PlainName = "setweek-phone";

    public static readonly TimeSpan CodeLifetime = TimeSpan.FromMinutes(10);

    /// <summary>A phone stays enrolled until its lead removes it, and for a year at most.</summary>
    public static readonly TimeSpan Lifetime = TimeSpan.FromDays(365);

    /// <summary>Without figures and letters that look like others: 30 to the power of 8 codes.</summary>
    private const string CodeLetters = "23456789ABCDEFGHJKMNPQRSTVWXYZ";

    private string CookieName => secure ? SecureName : PlainName;

    /// <summary>Makes a code for one phone of a store.</summary>
    public async Task<(string Code, DateTimeOffset Until)> MakeCode(
        Caller lead, string store, string name, CancellationToken cancelled)
    {
        var code = RandomNumberGenerator.GetString(CodeLetters, 8);
        var until = clock.GetUtcNow() + CodeLifetime;
        await using var make = database.CreateCommand("""
            delete from setweek.phone_code where until < @now;
            insert into setweek.phone_code (code_hash, tenant_id, store, name, made_by, until)
            values (@code, @tenant, @store, @name, @person, @until)
            """);
        make.Parameters.AddWithValue("now", clock.GetUtcNow());
        make.Parameters.AddWithValue("code", HashOf(code));
        make.Parameters.AddWithValue("tenant", lead.Tenant);
        make.Parameters.AddWithValue("store", store);
        make.Parameters.AddWithValue("name", name);
        make.Parameters.AddWithValue("person", lead.Person);
        make.Parameters.AddWithValue("until", until);
        await make.ExecuteNonQueryAsync(cancelled);
        return (code, until);
    }

    /// <summary>Spends a code: this browser is the store's phone from now on.</summary>
    /// <returns>False if there is no such code, or it has expired or is spent.</returns>
    public async Task<bool> Enrol(HttpContext http, string code)
    {
        var key = RandomNumberGenerator.GetHexString(64, lowercase: true);
        await using var enrol = database.CreateCommand("""
            with spent as (delete from setweek.phone_code where code_hash = @code and until > @now returning *)
            insert into setweek.phone (tenant_id, id, store, name, key_hash, enrolled_by, enrolled)
            select tenant_id, @id, store, name, @key, made_by, @now from spent returning id
            """);
        enrol.Parameters.AddWithValue("code", HashOf(code.Replace("-", "").Replace(" ", "").ToUpperInvariant()));
        enrol.Parameters.AddWithValue("now", clock.GetUtcNow());
        enrol.Parameters.AddWithValue("id", $"phone-{RandomNumberGenerator.GetHexString(8, lowercase: true)}");
        enrol.Parameters.AddWithValue("key", HashOf(key));
        if (await enrol.ExecuteScalarAsync(http.RequestAborted) is null) return false;
        var cookie = new CookieBuilder { MaxAge = Lifetime };
        SessionCookie.Configure(cookie, CookieName, secure);
        http.Response.Cookies.Append(CookieName, key, cookie.Build(http, clock.GetUtcNow()));
        return true;
    }

    /// <summary>The enrolled phone that sends the request; null if it is none.</summary>
    public async Task<Phone?> Of(HttpContext http)
    {
        if (http.Request.Cookies[CookieName] is not { } key) return null;
        await using var find = database.CreateCommand(
            "select tenant_id, id, store, name from setweek.phone where key_hash = @key and enrolled > @oldest");
        find.Parameters.AddWithValue("key", HashOf(key));
        find.Parameters.AddWithValue("oldest", clock.GetUtcNow() - Lifetime);
        await using var row = await find.ExecuteReaderAsync(http.RequestAborted);
        return await row.ReadAsync(http.RequestAborted)
            ? new Phone(row.GetString(0), row.GetString(1), row.GetString(2), row.GetString(3)) : null;
    }

    /// <summary>Records that somebody has signed in on a phone, so that its lead sees which ones are in use.</summary>
    public async Task MarkSignIn(Phone phone, CancellationToken cancelled)
    {
        await using var mark = database.CreateCommand(
            "update setweek.phone set last_sign_in = @now where tenant_id = @tenant and id = @id");
        mark.Parameters.AddWithValue("now", clock.GetUtcNow());
        mark.Parameters.AddWithValue("tenant", phone.Tenant);
        mark.Parameters.AddWithValue("id", phone.Id);
        await mark.ExecuteNonQueryAsync(cancelled);
    }

    private static byte[] HashOf(string key) => SHA256.HashData(Encoding.UTF8.GetBytes(key));
}
