using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Stores;

public sealed class ListStores : IQuery
{
    public sealed record View(IReadOnlyList<StoreView> Stores);

    public sealed record StoreView(string Id, string Name, string TimeZone);

    public static Operation Operation => new("GET", "/stores", "listStores", "Lists the stores to which the caller has access")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query = ListPage.Query,
        Replies = [new(200, "The stores in the order of their ids; follow the Link with rel=next", typeof(View))
        {
            HasLink = true,
        }],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var ids = await StreamList.Ids(
            session, "store", WeekScan.StoresFor(request), page.After, page.Limit + 1, request.Cancelled);
        var stores = new List<StoreView>();
        foreach (var id in ids.Take(page.Limit))
            if ((await Streams.Store(session, id, request.Cancelled)).State is { } store)
                stores.Add(new StoreView(store.Id, store.Name, store.TimeZone));
        return page.Answer("/stores", new View(stores), ids.Count > page.Limit ? ids[page.Limit - 1] : null);
    }, Task.FromResult);
}
