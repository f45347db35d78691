using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Lists;

/// <summary>Lists the stores or the directions of a chain, page by page.</summary>
internal static class StreamScan
{
    /// <param name="kind">"store" or "direction"; with an s it is the address and the name of the list.</param>
    public static Operation Operation(string kind, string id, string summary, Type view,
        params IReadOnlyList<QueryParameter> filters) =>
        new("GET", $"/{kind}s", id, summary)
        {
            MayUse = Permission.Everybody(AccessScope.Chain),
            Query = [.. filters, .. ListPage.Query],
            Replies =
            [
                new(200, $"The {kind}s in the order of their ids; follow the Link with rel=next", view) { HasLink = true },
            ],
        };

    /// <param name="among">Only these; null: all of them.</param>
    /// <param name="read">The entry of an id; null if nothing is known of it.</param>
    /// <param name="view">The answer with the entries of a page.</param>
    public static Task<Answer> Page<TEntry, TView>(Request request, IQuerySession session, string kind,
        IReadOnlyList<string>? among, Func<string, Task<TEntry?>> read, Func<IReadOnlyList<TEntry>, TView> view,
        params IReadOnlyList<QueryParameter> filters)
        where TEntry : class =>
        ListPage.Of(request).Match(async page =>
        {
            var (ids, last) = page.Cut(
                await StreamList.Ids(session, kind, among, page.After, page.ReadLimit, request.Cancelled), id => id);
            var entries = new List<TEntry>();
            foreach (var id in ids)
                if (await read(id) is { } entry) entries.Add(entry);
            return page.Answer($"/{kind}s", view(entries), last,
                [.. filters.Select(filter => (filter.Name, request.Query(filter.Name)))]);
        }, Task.FromResult);
}
