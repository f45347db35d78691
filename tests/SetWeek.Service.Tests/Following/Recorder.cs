using Marten;
using Npgsql;
using SetWeek.Service.Following;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Following;

/// <summary>A follower that records what it is given in a table of the test, in the follower's transaction.</summary>
/// <param name="fails">The chain in which it fails; null for none.</param>
public sealed class Recorder(string name, string? fails = null) : IFollower
{
    public string Name => name;

    public IReadOnlyList<string> Ignored => [];

    public Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        foreach (var entry in entries)
            session.QueueSqlCommand("insert into recorded (follower, tenant_id, place, stream) values (?, ?, ?, ?)",
                name, session.TenantId, entry.Place, entry.Stream);
        return session.TenantId == fails ? throw new InvalidOperationException("Fails as asked.") : Task.CompletedTask;
    }

    public static async Task CreateTable(NpgsqlDataSource database)
    {
        await using var create = database.CreateCommand("""
            create table if not exists recorded
              (id bigint generated always as identity, follower text, tenant_id text, place bigint, stream text)
            """);
        await create.ExecuteNonQueryAsync();
    }

    /// <summary>The places that were recorded of a chain, in the order of recording.</summary>
    public async Task<IReadOnlyList<(long Place, string Stream)>> Recorded(NpgsqlDataSource database, string chain)
    {
        await using var read = database.CreateCommand(
            "select place, stream from recorded where follower = $1 and tenant_id = $2 order by id");
        read.Parameters.AddWithValue(name);
        read.Parameters.AddWithValue(chain);
        await using var rows = await read.ExecuteReaderAsync();
        var found = new List<(long, string)>();
        while (await rows.ReadAsync()) found.Add((rows.GetInt64(0), rows.GetString(1)));
        return found;
    }
}
