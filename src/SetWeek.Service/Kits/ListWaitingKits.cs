using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Kits;

public sealed class ListWaitingKits : IQuery
{
    public sealed record View(IReadOnlyList<KitView> Kits);

    public sealed record KitView(
        string Week, string Store, string Kit, string Name, LocalDateTime? Eta, OffsetDateTime? Arrived, KitCounts.Missing? Missing);

    public static Operation Operation => new("GET", "/kits/waiting", "listWaitingKits",
        "Lists the kits that tasks wait for: not arrived, or not counted, or short")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query = [WeekScan.StoreFilter, .. ListPage.Query],
        Replies =
        [
            new(200, "The kits in the order of their weeks; follow the Link with rel=next, also after a short page", typeof(View))
            {
                HasLink = true,
            },
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var (kits, last) = await WeekScan.Page(request, session, page, week => week.Waiting.Select(kit => ($"{week.Id}/{kit.Kit}",
            new KitView(week.Id, week.Store, kit.Kit, kit.Name, kit.Eta, kit.Arrived, kit.Missing))));
        return page.Answer("/kits/waiting", new View(kits), last, ("store", request.Query("store")));
    }, Task.FromResult);
}
