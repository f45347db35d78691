using System.Collections.Concurrent;
using Npgsql;

namespace SetWeek.Service.Http;

/// <summary>
/// Logs failures of the database. While it is away every request fails in the same way, so that each kind of failure is one line
/// a minute, without a stack.
/// </summary>
public sealed class OutageLog(TimeProvider clock)
{
    private static readonly TimeSpan Interval = TimeSpan.FromMinutes(1);
    private readonly ConcurrentDictionary<string, Seen> kinds = [];

    /// <param name="trace">The trace id of the request that met the failure.</param>
    public void Report(ILogger log, Exception error, string trace)
    {
        var cause = error.GetBaseException();
        var kind = cause is PostgresException { SqlState: var state } ? $"{cause.GetType().Name} {state}" : cause.GetType().Name;
        var now = clock.GetUtcNow();
        var seen = kinds.AddOrUpdate(kind, _ => new Seen(now, 0, Logs: true), (_, before) => now - before.Logged >= Interval
            ? new Seen(now, before.Quiet, Logs: true) : before with { Quiet = before.Quiet + 1, Logs = false });
        if (!seen.Logs) return;
        log.LogError(
            "The database fails with {Kind}: {Message} ({Quiet} requests before this one failed in the same way): {Trace}",
            kind, cause.Message, seen.Quiet, trace);
        if (seen.Quiet > 0) kinds.TryUpdate(kind, seen with { Quiet = 0 }, seen);
    }

    /// <param name="Quiet">Failures since the last line.</param>
    private sealed record Seen(DateTimeOffset Logged, int Quiet, bool Logs);
}
