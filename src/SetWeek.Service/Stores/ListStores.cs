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

    private static Operation List { get; } = StreamScan.Operation("store", "listStores",
        "Lists the stores to which the caller has access; as a page, the state of their weeks", typeof(View),
        WeekScan.RegionFilter);

    public static Operation Operation => List with
    {
        Query = [.. List.Query, .. LedgerFilter.Query],
        Replies =
        [
            .. List.Replies,
            Reply.Page("The weeks of the stores: what is unsafe, at risk, silent and asked, then the rest"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        request.WantsPage ? await LedgerView.Page(request, session)
        : await StreamScan.Page(request, session, "store", await WeekScan.StoresFor(request, session), async id =>
            (await Streams.Store(session, id, request.Cancelled)).State is { } store
                ? new StoreView(store.Id, store.Name, store.TimeZone, store.Region) : null, stores => new View(stores),
            WeekScan.RegionFilter);
}
