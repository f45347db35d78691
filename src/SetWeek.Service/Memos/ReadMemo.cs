using Marten;
using NodaTime;
using SetWeek.Domain.Memos;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Memos;

namespace SetWeek.Service.Memos;

public sealed class ReadMemo : IQuery
{
    /// <summary>Stores of each part on the page.</summary>
    private const int MostShown = 100;

    /// <param name="Weeks">The weeks that it is for, in the stores that the caller reaches.</param>
    public sealed record View(ListMemos.MemoView Memo, IReadOnlyList<WeekView> Weeks);

    /// <param name="Read">When its lead has read it; absent if that is not so yet. Nobody is named.</param>
    public sealed record WeekView(string Week, string Store, Instant? Read);

    public static Operation Operation => new("GET", "/memos/{id}", "readMemo", "Reads a memo, and in which stores it is read")
    {
        MayUse = ListMemos.Readers,
        Replies =
        [
            new(200, "The memo and the weeks that it is for, as JSON or as a page (Accept: text/html)", typeof(View)),
            Reply.Page("The same as a page: first the stores that have not read it"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (await session.LoadAsync<Memo>(request.Id, request.Cancelled) is not { } memo
            || memo.Stores is { } stores && !stores.Any(request.Caller.MayAccess)) return Refused.Missing("memo", request.Id);
        var text = (await session.TextsOf([memo], request.Cancelled)).GetValueOrDefault(memo.Id);
        var (found, isWhole) = await session.WeeksOf([memo], request);
        IReadOnlyList<MemoReads.MemoWeek> weeks = [.. found[memo.Id]];
        return request.WantsPage
            ? await Page(request, session, memo, text, weeks, isWhole)
            : Answer.Ok(new View(ListMemos.MemoView.Of(memo, text, weeks, request.Caller.MayAccess),
                [.. weeks.Select(week => new WeekView(week.Week, week.Store, week.Read))]));
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, Memo memo, string? text,
        IReadOnlyList<MemoReads.MemoWeek> weeks, bool isWhole)
    {
        var direction = (await StreamNames.OfDirections(session, [memo.Direction], request.Cancelled))
            .GetValueOrDefault(memo.Direction, memo.Direction);
        var names = await StreamNames.OfStores(session, weeks.Select(week => week.Store), request.Cancelled);
        var mayWithdraw = memo.WithdrawnAt is null && request.Caller.HasRole(WithdrawMemo.Operation.MayUse);
        return await request.Page<MemoPage, MemoPage.Content>(new(request.Caller.Tenant, request.Caller.Role,
            memo.Id, direction, text, MemoReads.Sentence(memo, weeks, isWhole),
            $"Sent {MemoReads.At(memo.At, DateTimeZone.Utc)} (UTC){(memo.IsSafety ? ", about safety" : "")}.",
            [
                Part("waiting", "Not read yet", [.. weeks.Where(week => week.Read is null)]),
                Part("read", "Read", [.. weeks.Where(week => week.Read is not null).OrderBy(week => week.Read)]),
            ], mayWithdraw ? request.FormToken() : null));

        MemoPage.Part Part(string id, string heading, IReadOnlyList<MemoReads.MemoWeek> part) => new(id, heading,
            [
                .. part.Take(MostShown).Select(week => new MemoPage.Store(names.GetValueOrDefault(week.Store, week.Store),
                    $"/weeks/{week.Week}/memos",
                    week.Read is { } read ? $"{MemoReads.At(read, DateTimeZone.Utc)} (UTC)" : "Not yet.")),
            ], Math.Max(0, part.Count - MostShown));
    }
}
