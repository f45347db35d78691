using JasperFx.Events;
using Marten;
using Npgsql;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Storage;

/// <summary>
/// A stream as read: the state folded from its events (null if there are none) and its version, the number of events.
/// </summary>
public sealed record FoldedStream<T>(string Id, T? State, long Version) where T : class
{
    /// <summary>
    /// Appends events with the expected version of this read. The commit fails if others have appended since.
    /// </summary>
    /// <returns>The version after the commit.</returns>
    public long Append(IDocumentSession session, params IReadOnlyList<object> events)
    {
        if (Version == 0) session.Events.StartStream(Id, events);
        else if (events.Count > 0) session.Events.Append(Id, Version + events.Count, events);
        return Version + events.Count;
    }
}

/// <summary>
/// Reads streams. Their ids start with the kind, because a store and a week may have the same id. No folded state is stored. Each
/// node keeps the states that it has read last, and a read fetches only the events after the version that it knows
/// (docs/decisions/state.md).
/// </summary>
public static class Streams
{
    private const int InOneRoundTrip = 50;

    public static Task<FoldedStream<StoreProfile>> Store(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<StoreProfile, IStoreEvent>(session, $"store/{id}", StoreProfile.Evolve, cancelled);

    public static Task<FoldedStream<Direction>> Direction(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<Direction, IDirectionEvent>(session, DirectionKey(id), Domain.Directions.Direction.Evolve, cancelled);

    /// <summary>A direction as it was in a version; null if there is no such direction.</summary>
    public static async Task<Direction?> DirectionAt(IQuerySession session, string id, long version,
        CancellationToken cancelled) =>
        (await session.Events.FetchStreamAsync(DirectionKey(id), version, token: cancelled))
            .Select(e => e.Data).OfType<IDirectionEvent>().Aggregate((Direction?)null, Domain.Directions.Direction.Evolve);

    public static Task<FoldedStream<StoreWeek>> Week(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<StoreWeek, IWeekEvent>(session, WeekKey(id), StoreWeek.Evolve, cancelled);

    /// <summary>The summaries of weeks, each with the version that it has now. Only those that moved since are read.</summary>
    /// <returns>The summaries, and how many weeks this node knew nothing of, so that it read them whole.</returns>
    public static async Task<(IReadOnlyList<WeekSummary> Weeks, int Unknown)> Summaries(
        IQuerySession session, IReadOnlyList<(string Id, long Version)> weeks, CancellationToken cancelled)
    {
        var kept = (session.DocumentStore.Options as NodeStoreOptions)?.Summaries;
        var known = weeks.Select(week => kept?.Find<WeekSummary>(session.TenantId, WeekKey(week.Id)) is { } summary
            && summary.Version >= week.Version ? summary.State : null).ToList();
        var moved = weeks.Where((_, index) => known[index] is null).Select(week => week.Id).ToList();
        var unknown = moved.Count(week => KnownWeek(session, week) is null);
        var read = new Dictionary<string, WeekSummary>();
        foreach (var chunk in moved.Chunk(InOneRoundTrip))
            foreach (var week in await Weeks(session, chunk, cancelled))
            {
                var summary = new FoldedStream<WeekSummary>(week.Id, WeekSummary.Of(week.State!), week.Version);
                kept?.Keep(session.TenantId, summary);
                read[week.State!.Id] = summary.State!;
            }
        return ([.. weeks.Select((week, index) => known[index] ?? read[week.Id])], unknown);
    }

    /// <summary>
    /// Several weeks in one round trip to the database. Those that this node did not know are not kept: a list of all weeks of a
    /// chain must not drop the ones in use.
    /// </summary>
    private static async Task<IReadOnlyList<FoldedStream<StoreWeek>>> Weeks(
        IQuerySession session, IReadOnlyList<string> ids, CancellationToken cancelled)
    {
        var batch = session.CreateBatchQuery();
        var reads = ids.Select(id => Known<StoreWeek>(session, WeekKey(id)))
            .Select(known => (Known: known, Tail: batch.Events.FetchStream(known.Id, fromVersion: known.Version + 1))).ToList();
        await batch.Execute(cancelled);
        var weeks = new List<FoldedStream<StoreWeek>>();
        foreach (var read in reads)
            weeks.Add(Fold<StoreWeek, IWeekEvent>(
                session, read.Known, await read.Tail, StoreWeek.Evolve, keep: read.Known.Version > 0));
        return weeks;
    }

    /// <summary>
    /// A week and one of its plans, in one round trip to the database. The plan is null if the week has none with that id.
    /// </summary>
    public static async Task<(FoldedStream<StoreWeek> Week, CandidatePlan? Plan)> WeekAndPlan(
        IQuerySession session, string id, string plan, CancellationToken cancelled)
    {
        var known = Known<StoreWeek>(session, WeekKey(id));
        var batch = session.CreateBatchQuery();
        var tail = batch.Events.FetchStream(WeekKey(id), fromVersion: known.Version + 1);
        var found = batch.Load<CandidatePlan>(plan);
        await batch.Execute(cancelled);
        return (Fold<StoreWeek, IWeekEvent>(session, known, await tail, StoreWeek.Evolve),
            await found is { } candidate && candidate.Week == id ? candidate : null);
    }

    /// <summary>
    /// The week as this node knows it, without reading; perhaps older than its stream. It serves a decision whose append asserts
    /// the version. A refusal needs a read. Null if the node does not know it.
    /// </summary>
    public static FoldedStream<StoreWeek>? KnownWeek(IQuerySession session, string id) =>
        Known<StoreWeek>(session, WeekKey(id)) is { Version: > 0 } known ? known : null;

    /// <summary>
    /// Locks weeks until the end of the transaction, in a fixed order, so that what is read now is the state to which the
    /// transaction appends.
    /// </summary>
    /// <param name="wait">How long to wait for another transaction that holds one of them.</param>
    /// <exception cref="PostgresException">One is still held after that time (<see cref="DatabaseErrors"/>).</exception>
    public static async Task LockWeeks(IDocumentSession session, IReadOnlyList<string> ids, TimeSpan wait)
    {
        await using var takeLock = new NpgsqlCommand($"""
            set local lock_timeout = {(int)wait.TotalMilliseconds};
            select from setweek.mt_streams where tenant_id = @tenant and id = any(@ids) order by id collate "C" for update
            """);
        takeLock.Parameters.AddWithValue("tenant", session.TenantId);
        takeLock.Parameters.AddWithValue("ids", ids.Select(WeekKey).ToArray());
        await session.ExecuteAsync(takeLock);
    }

    /// <summary>Who entered reports of a week, by the id of the report. Those that have not arrived are left out.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> WhoEntered(
        IQuerySession session, string week, IReadOnlyList<string> reports)
    {
        await using var read = new NpgsqlCommand("""
            select data ->> 'report', user_name from setweek.mt_events
            where tenant_id = @tenant and stream_id = @stream and data ->> 'report' = any(@reports) and user_name is not null
            order by version
            """);
        read.Parameters.AddWithValue("tenant", session.TenantId);
        read.Parameters.AddWithValue("stream", WeekKey(week));
        read.Parameters.AddWithValue("reports", reports.ToArray());
        await using var rows = await session.ExecuteReaderAsync(read);
        var people = new Dictionary<string, string>();
        while (await rows.ReadAsync()) people.TryAdd(rows.GetString(0), rows.GetString(1));
        return people;
    }

    /// <summary>Keeps a week whose events this node has just committed.</summary>
    public static void Keep(IQuerySession session, FoldedStream<StoreWeek> committed) =>
        Cache(session)?.Keep(session.TenantId, committed);

    public static string WeekKey(string id) => $"week/{id}";

    public static string DirectionKey(string id) => $"direction/{id}";

    private static async Task<FoldedStream<TState>> Read<TState, TEvent>(
        IQuerySession session, string stream, Func<TState?, TEvent, TState?> evolve, CancellationToken cancelled)
        where TState : class
    {
        var known = Known<TState>(session, stream);
        var tail = await session.Events.FetchStreamAsync(stream, fromVersion: known.Version + 1, token: cancelled);
        return Fold(session, known, tail, evolve);
    }

    private static FoldedStream<TState> Known<TState>(IQuerySession session, string stream) where TState : class =>
        Cache(session)?.Find<TState>(session.TenantId, stream) ?? new FoldedStream<TState>(stream, null, 0);

    private static FoldedStream<TState> Fold<TState, TEvent>(
        IQuerySession session, FoldedStream<TState> known, IReadOnlyList<IEvent> tail, Func<TState?, TEvent, TState?> evolve,
        bool keep = true)
        where TState : class
    {
        if (tail.Count == 0) return known;
        var read = new FoldedStream<TState>(
            known.Id, tail.Select(e => e.Data).OfType<TEvent>().Aggregate(known.State, evolve), tail[^1].Version);
        if (keep) Cache(session)?.Keep(session.TenantId, read);
        return read;
    }

    private static StateCache? Cache(IQuerySession session) => (session.DocumentStore.Options as NodeStoreOptions)?.States;
}
