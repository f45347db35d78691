using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Lists;

/// <summary>
/// Lists weeks, or what lies in them, from the summaries of the weeks. No table repeats what their events say; a node reads only
/// those weeks that have moved since it summarized them (docs/decisions/lists.md).
/// </summary>
public static class WeekScan
{
    /// <summary>What one page may cost. Beyond, the page is short and has a link to the next.</summary>
    /// <param name="MostWeeks">Weeks looked at for one page.</param>
    /// <param name="MostUnknown">Those of them that the node does not know, and reads whole at some 20 ms each.</param>
    /// <param name="Chunk">Weeks read in one round trip. The other limits are checked after each.</param>
    public sealed record Limits(int MostWeeks, int MostUnknown, int Chunk);

    private static readonly Limits Usual = new(MostWeeks: 2000, MostUnknown: 100, Chunk: 50);

    public static QueryParameter StoreFilter { get; } = new("store", "Only of this store", "harbour-street");

    public static QueryParameter RegionFilter { get; } = new("region", "Only of the stores of this region", "south");

    /// <summary>The declaration of a list of what lies in weeks.</summary>
    /// <param name="entries">What is listed.</param>
    public static Operation Operation(string path, string id, string summary, string entries, Type view) =>
        new("GET", path, id, summary)
        {
            MayUse = Permission.Everybody(AccessScope.Chain),
            Query = [StoreFilter, RegionFilter, .. ListPage.Query],
            Replies =
            [
                new(200, $"The {entries} in the order of their weeks; follow the Link with rel=next, also after a short page",
                    view) { HasLink = true },
            ],
        };

    /// <summary>The answer with a page of what lies in weeks.</summary>
    /// <param name="select">As for a page.</param>
    /// <param name="view">The answer with the entries of a page.</param>
    public static Task<Answer> Answer<TEntry, TView>(Request request, IQuerySession session, string path,
        Func<WeekSummary, IEnumerable<(string Key, TEntry Entry)>> select, Func<IReadOnlyList<TEntry>, TView> view) =>
        ListPage.Of(request).Match(async page =>
        {
            var (entries, last) = await Page(request, session, page, select);
            return page.Answer(path, view(entries), last, (StoreFilter.Name, request.Query(StoreFilter.Name)),
                (RegionFilter.Name, request.Query(RegionFilter.Name)));
        }, Task.FromResult);

    /// <summary>The page of the entries that <paramref name="select"/> finds in weeks.</summary>
    /// <param name="select">
    /// The entries of a week, each with a key that begins with the id of the week; in the order of their keys.
    /// </param>
    /// <param name="limits">The usual ones unless given.</param>
    /// <returns>The entries, and the key after which the next page begins; null if there is none.</returns>
    public static async Task<(IReadOnlyList<T> Entries, string? Last)> Page<T>(
        Request request, IQuerySession session, ListPage page, Func<WeekSummary, IEnumerable<(string Key, T Entry)>> select,
        Limits? limits = null)
    {
        var (mostWeeks, mostUnknown, chunk) = limits ?? Usual;
        var stores = await StoresFor(request, session);
        var (entries, from, looked, unknown) = (new List<T>(), page.After.Split('/')[0], 0, 0);
        for (var last = page.After; ;)
        {
            var weeks = await StreamList.Weeks(session, stores, from, chunk, request.Cancelled);
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
            if (weeks.Count < chunk) return (entries, null);
            (looked, unknown) = (looked + chunk, unknown + read);
            from = weeks[^1].Id;
            // A key after all those of that week: ids have no '~'.
            if (looked >= mostWeeks || unknown >= mostUnknown) return (entries, $"{from}/~~");
        }
    }

    /// <summary>The stores that the request is about and its caller has access to; null: all of them.</summary>
    public static async Task<IReadOnlyList<string>?> StoresFor(Request request, IQuerySession session)
    {
        if (request.Filter(RegionFilter.Name) is not { } region) return StoresFor(request);
        var stores = await StoresOf(session, region, request.Cancelled);
        return StoresFor(request) is { } among ? [.. stores.Intersect(among)] : stores;
    }

    /// <summary>The stores of a region; none of one that cannot exist.</summary>
    public static async Task<IReadOnlyList<string>> StoresOf(IQuerySession session, string region, CancellationToken cancelled) =>
        Ids.IsId(region) ? await StreamList.StoresOf(session, region, cancelled) : [];

    private static IReadOnlyList<string>? StoresFor(Request request) =>
        request.Filter(StoreFilter.Name) is { } asked ? request.Caller.MayAccess(asked) ? [asked] : []
        : request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores;
}
