using Marten;
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

    public static Operation Operation =>
        StreamScan.Operation("store", "listStores", "Lists the stores to which the caller has access", typeof(View));

    public static Task<Answer> Handle(Request request, IQuerySession session) =>
        StreamScan.Page(request, session, "store", WeekScan.StoresFor(request), async id =>
            (await Streams.Store(session, id, request.Cancelled)).State is { } store
                ? new StoreView(store.Id, store.Name, store.TimeZone) : null, stores => new View(stores));
}
