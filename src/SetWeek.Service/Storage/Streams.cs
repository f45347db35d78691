using Marten;
using SetWeek.Domain.Directions;
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
/// Reads streams. Their ids start with the kind, because a store and a week may have the same id. The state is folded from the
/// events at every read, so that no stored copy can be stale or have an old shape.
/// </summary>
public static class Streams
{
    public static Task<FoldedStream<StoreProfile>> Store(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<StoreProfile, IStoreEvent>(session, $"store/{id}", StoreProfile.Evolve, cancelled);

    public static Task<FoldedStream<Direction>> Direction(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<Direction, IDirectionEvent>(session, $"direction/{id}", Domain.Directions.Direction.Evolve, cancelled);

    public static Task<FoldedStream<StoreWeek>> Week(IQuerySession session, string id, CancellationToken cancelled) =>
        Read<StoreWeek, IWeekEvent>(session, WeekKey(id), StoreWeek.Evolve, cancelled);

    public static string WeekKey(string id) => $"week/{id}";

    private static async Task<FoldedStream<TState>> Read<TState, TEvent>(
        IQuerySession session, string stream, Func<TState?, TEvent, TState?> evolve, CancellationToken cancelled)
        where TState : class
    {
        var events = await session.Events.FetchStreamAsync(stream, token: cancelled);
        var state = events.Select(e => e.Data).OfType<TEvent>().Aggregate((TState?)null, evolve);
        return new FoldedStream<TState>(stream, state, events.Count);
    }
}
