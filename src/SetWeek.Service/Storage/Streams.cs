using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Storage;

/// <summary>
/// A stream as it was read: the state that its events fold to, null where there are none, and how many they are.
/// </summary>
public sealed record FoldedStream<T>(string Id, T? State, long Version) where T : class
{
    /// <summary>
    /// Adds events, on the condition that nothing has been added since this was read; the commit checks it. The answer is
    /// the version then.
    /// </summary>
    public long Append(IDocumentSession session, params IReadOnlyList<object> events)
    {
        if (Version == 0) session.Events.StartStream(Id, events);
        else if (events.Count > 0) session.Events.Append(Id, Version + events.Count, events);
        return Version + events.Count;
    }
}

/// <summary>
/// The streams: their ids (a store and a week may bear one name, so the kind comes first) and the pure function that folds
/// each. State is folded when it is asked for: no stored copy of it can be stale or of an older shape.
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
