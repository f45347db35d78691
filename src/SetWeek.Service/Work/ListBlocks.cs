using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Work;

public sealed class ListBlocks : IQuery
{
    public sealed record View(IReadOnlyList<BlockView> Blocks);

    public sealed record BlockView(
        string Week, string Store, string? Task, int? Stint, string? CleanDown, string? Night, string? Reason,
        int? RemainingMinutes, OffsetDateTime? Until);

    public static Operation Operation => new("GET", "/blocks", "listBlocks", "Lists the work that is blocked")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query = [WeekScan.StoreFilter, .. ListPage.Query],
        Replies =
        [
            new(200, "The blocks in the order of their weeks; follow the Link with rel=next, also after a short page", typeof(View))
            {
                HasLink = true,
            },
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var (blocks, last) = await WeekScan.Page(request, session, page, week => week.Blocks.Select(block => (KeyOf(week, block),
            new BlockView(week.Id, week.Store, block.Task, block.Stint, block.CleanDown, block.Night, block.Reason,
                block.RemainingMinutes, block.Until))));
        return page.Answer("/blocks", new View(blocks), last, ("store", request.Query("store")));
    }, Task.FromResult);

    /// <summary>In the order in which a week lists its work.</summary>
    private static string KeyOf(WeekSummary week, BlockedWork block) => block.Task is { } task
        ? $"{week.Id}/{task}/{block.Stint:D4}" : $"{week.Id}/~{block.Night}/{block.CleanDown}";
}
