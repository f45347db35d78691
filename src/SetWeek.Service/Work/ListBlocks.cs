using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
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

    private const string Path = "/blocks";

    public static Operation Operation =>
        WeekScan.Operation(Path, "listBlocks", "Lists the work that is blocked", "blocks", typeof(View));

    public static Task<Answer> Handle(Request request, IQuerySession session) => WeekScan.Answer(request, session, Path,
        week => week.Blocks.Select(block => (KeyOf(week, block), new BlockView(week.Id, week.Store, block.Task, block.Stint,
            block.CleanDown, block.Night, block.Reason, block.RemainingMinutes, block.Until))), blocks => new View(blocks));

    /// <summary>In the order in which a week lists its work.</summary>
    private static string KeyOf(WeekSummary week, BlockedWork block) => block.Task is { } task
        ? $"{week.Id}/{task}/{block.Stint:D4}" : $"{week.Id}/~{block.Night}/{block.CleanDown}";
}
