using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using Npgsql;

namespace SetWeek.Bench.Serving;

/// <summary>
/// PostgreSQL's own benchmark: what the same server and disk can do at best with one commit for each row of the same size.
/// </summary>
internal static partial class PgBench
{
    public static async Task Prepare(NpgsqlDataSource database)
    {
        await using var create = database.CreateCommand("create table bench_rows (id bigserial primary key, filler text not null)");
        await create.ExecuteNonQueryAsync();
    }

    /// <summary>The average size of a stored report, with its metadata.</summary>
    public static async Task<int> RowBytes(NpgsqlDataSource database)
    {
        await using var size = database.CreateCommand(
            "select coalesce(avg(pg_column_size(e.*)), 400)::int from setweek.mt_events e where type = 'work-finished'");
        return (int)(await size.ExecuteScalarAsync())!;
    }

    /// <returns>Rows a second.</returns>
    public static async Task<double> Run(int clients, TimeSpan time, int rowBytes)
    {
        var postgres = new NpgsqlConnectionStringBuilder(BenchNode.Postgres);
        var script = Path.GetTempFileName();
        // A row has a header of 24 bytes and an id of 8.
        await File.WriteAllTextAsync(script,
            $"insert into bench_rows (filler) values (repeat('x', {Math.Max(1, rowBytes - 36)}));\n");
        var start = new ProcessStartInfo("pgbench",
        [
            "--no-vacuum", "--file", script, "--client", $"{clients}", "--jobs", $"{Math.Min(2, clients)}",
            "--time", $"{(int)time.TotalSeconds}", "--host", postgres.Host!, "--port", $"{postgres.Port}",
            "--username", postgres.Username!, postgres.Database!,
        ]) { RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["PGPASSWORD"] = postgres.Password;
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var output = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        File.Delete(script);
        return Tps().Match(output) is { Success: true } found
            ? double.Parse(found.Groups[1].ValueSpan, CultureInfo.InvariantCulture)
            : throw new InvalidOperationException($"pgbench printed no rate: {output}{await error}");
    }

    [GeneratedRegex(@"tps = ([0-9.]+)")]
    private static partial Regex Tps();
}
