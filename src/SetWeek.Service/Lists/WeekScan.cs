using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Lists;

/// <summary>
/// Lists weeks, or what lies in them, from the summaries of the weeks. No table repeats what their events say; a node reads only
/// those weeks that have moved since it summarized them (docs/decisions/lists.md).
/// </summary>
public static class WeekScan
{
    /// <summary>
    /// Weeks looked at for one page, and those of them that are read whole, at some 20 ms each. Beyond, the page is short and has a
    /// link to the next.
    /// </summary>
    private const int MostWeeks = 2000, MostUnknown = 100, Chunk = 50;

    public static QueryParameter StoreFilter { get; } = new("store", "Only of this store", "harbour-street");

    /// <summary>The page of the entries that <paramref name="select"/> finds in weeks.</summary>
    /// <param name="select">
    /// The entries of a week, each with a key that begins with the id of the week; in the order of their keys.
    /// </param>
    /// <returns>The entries, and the key after which the next page begins; null if there is none.</returns>
    public static async Task<(IReadOnlyList<T> Entries, string? Last)> Page<T>(
        Request request, IQuerySession session, ListPage page, Func<WeekSummary, IEnumerable<(string Key, T Entry)>> select)
    {
        var stores = StoresFor(request);
        var (entries, from, looked, unknown) = (new List<T>(), page.After.Split('/')[0], 0, 0);
        for (var last = page.After; ;)
        {
            var weeks = await StreamList.Weeks(session, stores, from, Chunk, request.Cancelled);
            var (summaries, read) = await Streams.Summaries(session, weeks, request.Cancelled);
            foreach (var week in summaries)
            {
                // The first week is the one in which the page or the chunk before ended.
                foreach (var (key, entry) in select(week)
                    .Where(found => week.Id != from || string.CompareOrdinal(found.Key, last) > 0))
                {
                    if (entries.Count == page.Limit) return (entries, last);
                    entries.Add(entry);
                    last = key;
                }
            }
            if (weeks.Count < Chunk) return (entries, null);
            (looked, unknown) = (looked + Chunk, unknown + read);
            from = weeks[^1].Id;
            // A key after all those of that week: ids have no '~'.
            if (looked >= MostWeeks || unknown >= MostUnknown) return (entries, $"{from}/~~");
        }
    }

    /// <summary>The stores that the request is about and its caller has access to; null: all of them.</summary>
    public static IReadOnlyList<string>? StoresFor(Request request) =>
        request.Query("store") is { } asked ? request.Caller.MayAccess(asked) ? [asked] : []
        : request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores;
}
