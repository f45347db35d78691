using System.Security.Cryptography;
using Npgsql;

namespace SetWeek.Service.Tests.Solving;

/// <summary>An empty database, a signing key and a clock that service processes share. All are deleted at the end.</summary>
/// <param name="server">The connection string of the PostgreSQL server.</param>
public sealed class ServiceDatabase(string server) : IAsyncDisposable
{
    private readonly string name = $"setweek_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";
    private bool created;

    public string ConnectionString => new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;

    public string KeyFile { get; } = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");

    /// <summary>The file that holds the current time of the services.</summary>
    public string ClockFile => $"{KeyFile}.clock";

    /// <summary>Creates the database at the first call.</summary>
    public async Task Create()
    {
        if (created) return;
        await Execute($"create database {name}");
        created = true;
    }

    /// <summary>The value that a query returns.</summary>
    public async Task<object?> Query(string sql)
    {
        await using var source = NpgsqlDataSource.Create(ConnectionString);
        await using var command = source.CreateCommand(sql);
        return await command.ExecuteScalarAsync();
    }

    public async ValueTask DisposeAsync()
    {
        File.Delete(KeyFile);
        File.Delete(ClockFile);
        await Execute($"drop database if exists {name} with (force)");
    }

    private async Task Execute(string sql)
    {
        await using var source = NpgsqlDataSource.Create(server);
        await using var command = source.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
