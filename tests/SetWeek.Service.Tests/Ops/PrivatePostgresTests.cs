using Npgsql;

namespace SetWeek.Service.Tests.Ops;

/// <summary>Tests ops/postgres: a private server is set up, killed, started again and removed.</summary>
public sealed class PrivatePostgresTests
{
    private static readonly string Name = $"trial-{Environment.ProcessId}";

    [PostgresFact]
    public async Task A_private_server_needs_the_password_and_keeps_its_data_after_a_kill()
    {
        await using var server = new PrivatePostgres(Name);
        await server.Start();
        var url = await server.Url();
        Assert.Equal("on", await Query(url, "show fsync"));
        Assert.StartsWith("SCRAM-SHA-256$", await Query(url, "select rolpassword from pg_authid where rolname = 'setweek'"));
        Assert.Equal("127.0.0.1", await Query(url, "show listen_addresses"));
        var refused = await Assert.ThrowsAsync<PostgresException>(() =>
            Query(url.Replace("Password=", "Password=x"), "select 1"));
        Assert.Equal(PostgresErrorCodes.InvalidPassword, refused.SqlState);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite,
            File.GetUnixFileMode(Path.Combine(server.State, "password")));

        await Query(url, "create table kept as select 'yes' as answer");
        await server.Start();
        Assert.Equal(url, await server.Url());

        await server.Kill();
        NpgsqlConnection.ClearAllPools();
        await server.Start();
        Assert.Equal("yes", await Query(await server.Url(), "select answer from kept"));
    }

    [PostgresFact]
    public async Task A_stopped_server_has_no_address_and_a_removed_one_leaves_nothing()
    {
        await using var server = new PrivatePostgres(Name);
        await server.Start();
        await server.Succeeds("stop");
        var (code, _, errors) = await server.Run("url");
        Assert.Equal((1, $"ops/postgres: no server '{Name}' runs here: ops/postgres start {Name}"), (code, errors.Trim()));
        await server.Succeeds("remove");
        Assert.False(Path.Exists(server.State));
    }

    private static async Task<string?> Query(string url, string sql)
    {
        await using var data = NpgsqlDataSource.Create(url);
        await using var command = data.CreateCommand(sql);
        return (await command.ExecuteScalarAsync())?.ToString();
    }
}
