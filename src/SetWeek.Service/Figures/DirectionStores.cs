using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Figures;

/// <summary>The stores to which head office can write of a direction, or say that a kit of it is late.</summary>
public static class DirectionStores
{
    /// <summary>Those that the caller reaches and that have not launched yet.</summary>
    /// <returns>Ids with names, in the order of the names.</returns>
    public static async Task<IReadOnlyList<(string Value, string Text)>> Of(
        IQuerySession session, Request request, string direction)
    {
        IReadOnlyList<string>? reached = request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores;
        var stores = (await StoredFigures.Read(session, direction, null, reached, request.Cancelled))
            .Where(row => row.Figures.Launch.InZoneLeniently(DateTimeZoneProviders.Tzdb[row.Figures.TimeZone]).ToInstant()
                > request.Now)
            .Select(row => row.Figures.Store).Distinct().ToList();
        var names = await StreamNames.OfStores(session, stores, request.Cancelled);
        return [.. stores.Select(store => (store, names.GetValueOrDefault(store, store)))
            .OrderBy(store => store.Item2, StringComparer.Ordinal)];
    }
}
