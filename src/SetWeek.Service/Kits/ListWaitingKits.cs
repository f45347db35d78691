using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Kits;

public sealed class ListWaitingKits : IQuery
{
    public sealed record View(IReadOnlyList<KitView> Kits);

    public sealed record KitView(
        string Week, string Store, string Kit, string Name, LocalDateTime? Eta, OffsetDateTime? Arrived,
        KitCounts.Missing? Missing);

    private const string Path = "/kits/waiting";

    public static Operation Operation => WeekScan.Operation(Path, "listWaitingKits",
        "Lists the kits that tasks wait for: not arrived, or not counted, or short", "kits", typeof(View));

    public static Task<Answer> Handle(Request request, IQuerySession session) => WeekScan.Answer(request, session, Path,
        week => week.Waiting.Select(kit => ($"{week.Id}/{kit.Kit}",
            new KitView(week.Id, week.Store, kit.Kit, kit.Name, kit.Eta, kit.Arrived, kit.Missing))), kits => new View(kits));
}
