using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Storage;

/// <summary>Reads the data of a week that is not in its event stream.</summary>
public static class WeekReads
{
    /// <summary>The crew with names, rates and hours; empty if none is stored.</summary>
    public static async Task<CrewFile> CrewOf(this IQuerySession session, string week, CancellationToken cancelled) =>
        await session.LoadAsync<CrewFile>(week, cancelled) ?? new CrewFile(week, []);

    /// <summary>The store of a week; null if there is no such week. Read only if this node does not know the week.</summary>
    public static async Task<string?> StoreOf(this IQuerySession session, string week, CancellationToken cancelled) =>
        Streams.KnownWeek(session, week)?.State?.Week.Store.Id
            ?? (await session.LoadAsync<WeekPlace>(week, cancelled))?.Store;

    /// <summary>
    /// What the events mean for the published plan: that it no longer holds, or holds again. The crew is read only where they
    /// could change that. It is derived from facts: if it fails, that is logged and the facts are stored all the same.
    /// </summary>
    /// <param name="week">The state after the events.</param>
    /// <returns>The event to append after them; null for none.</returns>
    public static async Task<IWeekEvent?> PlanChange(
        this IQuerySession session, StoreWeek week, IReadOnlyList<IWeekEvent> events, CancellationToken cancelled) =>
        Derived(session, week, () => PlanHealth.NeedsCheck(week, events) ? week : null) is null ? null
            : session.PlanChange(week, await session.CrewOf(week.Id, cancelled), events);

    /// <summary>The same for a crew that is known, and perhaps not stored yet.</summary>
    public static IWeekEvent? PlanChange(
        this IQuerySession session, StoreWeek week, CrewFile crew, IReadOnlyList<IWeekEvent> events) =>
        Derived(session, week, () => PlanHealth.Change(week, crew, events));

    /// <summary>Computes what follows from facts. A failure costs what follows, never the facts.</summary>
    private static T? Derived<T>(IQuerySession session, StoreWeek week, Func<T?> compute) where T : class
    {
        try
        {
            return compute();
        }
        catch (Exception error)
        {
            (session.DocumentStore.Options as NodeStoreOptions)?.Log.LogError(
                error, "Whether the published plan of the week {Week} still holds is not known.", week.Id);
            return null;
        }
    }

    /// <summary>
    /// Whether a decision on a version of the week still applies: it is this one, or only receipts have come since
    /// (docs/decisions/told.md).
    /// </summary>
    public static bool IsCurrent(this FoldedStream<StoreWeek> stream, long version) =>
        version <= stream.Version && version >= stream.Version - (stream.State?.TrailingReceipts ?? 0);

    /// <summary>The direction in the version that the week has taken; null if it is not known.</summary>
    public static async Task<Direction?> DirectionOf(this IQuerySession session, StoreWeek week, CancellationToken cancelled)
    {
        var latest = await Streams.Direction(session, week.Direction, cancelled);
        return latest.Version == week.DirectionVersion ? latest.State
            : await Streams.DirectionAt(session, week.Direction, week.DirectionVersion, cancelled);
    }

    /// <summary>The title of the week: the current names of the direction and the store.</summary>
    public static async Task<string> TitleOf(this IQuerySession session, StoreWeek week, CancellationToken cancelled)
    {
        var direction = await Streams.Direction(session, week.Direction, cancelled);
        var store = await Streams.Store(session, week.Week.Store.Id, cancelled);
        return $"{direction.State?.Name ?? week.Direction}, {store.State?.Name ?? week.Week.Store.Id}";
    }
}
