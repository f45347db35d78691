using Marten;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Kits;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Kits;

public sealed class ReadKit : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/kits/{kit}", "readKit",
        "Reads a kit: each line as counted, what it is needed for, and the work that waits")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The kit", typeof(KitSheet)) { HasETag = true },
            Reply.Page("The page on which it is counted"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Week.Kits.FirstOrDefault(kit => kit.Id == request["kit"]) is not { } found)
            return Refused.Missing("kit", request["kit"]);
        var kit = KitSheet.Of(week, found, await KitPages.CountersFor(session, week, request));
        return (request.WantsPage
            ? await request.Page<KitPage, KitPage.Content>(new(
                await KitPages.WeekOf(session, week, request), kit, request.FormToken(),
                $"page-{request.PlanIds.Next(request.SystemTime)}")
            {
                MayCount = request.Caller.HasRole(TakeKitIn.Operation.MayUse),
                MayConfirm = request.Caller.Role == Role.Lead,
                MaySettle = request.Caller.HasRole(SettleLine.Operation.MayUse),
                Direction = await session.DirectionOf(week, request.Cancelled),
            })
            : Answer.Ok(kit)).WithVersion(stream.Version);
    }
}
