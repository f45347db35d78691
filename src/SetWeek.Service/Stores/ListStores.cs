using Marten;
using SetWeek.Domain.Stores;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Stores;

public sealed class ListStores : IQuery
{
    public sealed record View(IReadOnlyList<StoreView> Stores);

    public sealed record StoreView(string Id, string Name, string TimeZone, StoreRegion? Region);

    public static Operation Operation =>
        StreamScan.Operation("store", "listStores", "Lists the stores to which the caller has access", typeof(View),
            WeekScan.RegionFilter);

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await StreamScan.Page(request, session, "store", await WeekScan.StoresFor(request, session), async id =>
            (await Streams.Store(session, id, request.Cancelled)).State is { } store
                ? new StoreView(store.Id, store.Name, store.TimeZone, store.Region) : null, stores => new View(stores), WeekScan.RegionFilter);
}
