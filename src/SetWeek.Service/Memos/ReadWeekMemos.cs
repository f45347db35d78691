using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Memos;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Memos;

public sealed class ReadWeekMemos : IQuery
{
    public sealed record View(IReadOnlyList<MemoView> Memos);

    /// <param name="Text">Absent if it is erased.</param>
    /// <param name="Safety">Whether somebody could be hurt by not knowing it.</param>
    /// <param name="Withdrawn">Whether head office has taken it back.</param>
    /// <param name="Read">When the lead has read it; absent if that is not so yet.</param>
    public sealed record MemoView(string Id, string? Text, bool Safety, Instant At, bool Withdrawn, Instant? Read);

    public static Operation Operation => new("GET", "/weeks/{id}/memos", "readWeekMemos",
        "Reads the memos of head office for a week, the latest first")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The memos, as JSON or as a page (Accept: text/html)", typeof(View)),
            Reply.Page("The same as a page, on which the lead records that a memo is read"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (request.WantsPage)
            return await request.Page<WeekMemosPage, WeekMemosPage.Content>(new(
                await session.TitleOf(week, request.Cancelled), week.Week.Store.TimeZone,
                WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Memos"), await session.ReaderOf(week.Id, request),
                await session.ShownMemosOf(week, await session.CrewOf(week.Id, request.Cancelled), request,
                    $"/weeks/{week.Id}/memos")));
        var memos = await session.MemosOf(week, request.Cancelled);
        var texts = await session.TextsOf(memos, request.Cancelled);
        return Answer.Ok(new View([.. memos.Select(memo => new MemoView(memo.Id, texts.GetValueOrDefault(memo.Id), memo.IsSafety,
            memo.At, memo.WithdrawnAt is not null, week.MemosRead.TryGetValue(memo.Id, out var read) ? read.At : null))]));
    }
}
