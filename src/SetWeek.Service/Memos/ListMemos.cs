using Marten;
using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Memos;
using SetWeek.Service.Access;
using SetWeek.Service.Figures;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Memos;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Memos;

public sealed class ListMemos : IQuery
{
    private const string Path = "/memos";

    /// <summary>Directions to choose from on the page.</summary>
    private const int MostDirections = 50;

    public sealed record View(IReadOnlyList<MemoView> Memos);

    /// <param name="Text">Absent if it is erased.</param>
    /// <param name="Safety">Whether somebody could be hurt by not knowing it.</param>
    /// <param name="Stores">Those of them that the caller reaches; absent if it is for every store of the direction.</param>
    /// <param name="Weeks">How many weeks it is for, in the stores that the caller reaches.</param>
    /// <param name="Read">In how many of them the lead has read it.</param>
    public sealed record MemoView(
        string Id, string Direction, string? Text, bool Safety, IReadOnlyList<string>? Stores, Instant At, string By,
        Instant? WithdrawnAt, int Weeks, int Read)
    {
        /// <param name="reaches">Whether the caller reaches a store.</param>
        internal static MemoView Of(
            Memo memo, string? text, IReadOnlyCollection<MemoReads.MemoWeek> weeks, Func<string, bool> reaches) => new(
            memo.Id, memo.Direction, text, memo.IsSafety, memo.Stores is null ? null : [.. memo.Stores.Where(reaches)], memo.At,
            memo.By, memo.WithdrawnAt, weeks.Count, weeks.Count(week => week.Read is not null));
    }

    /// <summary>Whoever may see who has read a memo.</summary>
    public static Permission Readers => new(AccessScope.Chain, Role.HeadOffice, Role.Region);

    private static readonly QueryParameter
        DirectionOfForm = new("direction", "On the page: the direction to some of whose stores to write", "first-rain"),
        StoreOfForm = new("to", "On the page: the one store to write to, with a direction", "harbour-street");

    public static Operation Operation => new("GET", Path, "listMemos", "Lists the memos of head office, the latest first")
    {
        MayUse = Readers,
        Query = [DirectionOfForm, StoreOfForm, .. ListPage.Query],
        Replies =
        [
            new(200, "The memos, with in how many weeks each is read; follow the Link with rel=next", typeof(View))
            {
                HasLink = true,
            },
            Reply.Page("The same as a page, with a form to write one: to every store of a direction, to some, or to one"),
        ],
    };

    /// <summary>The address of the form in which head office asks one store how it stands.</summary>
    public static string AddressOfAsking(string direction, string store) =>
        $"{Path}?{DirectionOfForm.Name}={direction}&{StoreOfForm.Name}={store}#write";

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        if (new[] { DirectionOfForm, StoreOfForm }.Any(filter => request.Filter(filter.Name) is { } id && !Ids.IsId(id)))
            return Refused.With(400, $"{DirectionOfForm.Name} and {StoreOfForm.Name} must be ids.", "no-id");
        var (ofPage, last) = page.Cut(await Latest(session, page, request.Cancelled), memo => memo.Id);
        var shown = ofPage.Where(memo => memo.Stores is null || memo.Stores.Any(request.Caller.MayAccess)).ToList();
        var texts = await session.TextsOf(shown, request.Cancelled);
        var (weeks, isWhole) = await session.WeeksOf(shown, request);
        return request.WantsPage
            ? await Page(request, session, shown, texts, weeks, isWhole, ofPage.Count > shown.Count,
                last is null ? null : page.Next(Path, last))
            : page.Answer(Path, new View([.. shown.Select(memo => MemoView.Of(
                memo, texts.GetValueOrDefault(memo.Id), [.. weeks[memo.Id]], request.Caller.MayAccess))]), last);
    }, Task.FromResult);

    /// <summary>
    /// Ids begin with the time, so that they sort by age. A page may be short: memos for stores that the caller does not reach
    /// are left out of it.
    /// </summary>
    private static async Task<IReadOnlyList<Memo>> Latest(IQuerySession session, ListPage page, CancellationToken cancelled)
    {
        IQueryable<Memo> all = session.Query<Memo>();
        if (page.After.Length > 0) all = all.Where(memo => memo.Id.CompareTo(page.After) < 0);
        return await all.OrderByDescending(memo => memo.Id).Take(page.ReadLimit).ToListAsync(cancelled);
    }

    /// <param name="hasOthers">Whether memos were left out because the caller reaches none of their stores.</param>
    private static async Task<Answer> Page(Request request, IQuerySession session, IReadOnlyList<Memo> memos,
        IReadOnlyDictionary<string, string> texts, ILookup<string, MemoReads.MemoWeek> weeks, bool isWhole, bool hasOthers,
        string? next)
    {
        var token = request.Caller.HasRole(SendMemo.Operation.MayUse) ? request.FormToken() : null;
        var choices = token is null ? []
            : await StreamList.Ids(session, "direction", null, "", MostDirections, request.Cancelled);
        var names = await StreamNames.OfDirections(
            session, [.. choices, .. memos.Select(memo => memo.Direction)], request.Cancelled);
        var form = token is null ? null : new MemosPage.WriteForm(token, request.PlanIds.Next(request.SystemTime));
        if (form is not null && request.Filter(DirectionOfForm.Name) is { } direction
            && (await StreamNames.OfDirections(session, [direction], request.Cancelled)).GetValueOrDefault(direction) is { } name)
            form = form with { To = await ReceiversOf(request, session, direction, name) };
        return await request.Page<MemosPage, MemosPage.Content>(new(request.Caller.Tenant, request.Caller.Role,
            [
                .. memos.Select(memo => new MemosPage.Listed(memo.Id, names.GetValueOrDefault(memo.Direction, memo.Direction),
                    texts.GetValueOrDefault(memo.Id), memo.IsSafety, MemoReads.Sentence(memo, [.. weeks[memo.Id]], isWhole),
                    $"Sent {MemoReads.At(memo.At, DateTimeZone.Utc)} (UTC).")),
            ],
            [.. choices.Select(id => (id, names.GetValueOrDefault(id, id)))], hasOthers, next, form));
    }

    /// <summary>The stores of a direction to choose from; or the one that is asked, with what the ledger says of it.</summary>
    private static async Task<MemosPage.Receivers> ReceiversOf(
        Request request, IQuerySession session, string direction, string name)
    {
        if (request.Filter(StoreOfForm.Name) is not { } store || !request.Caller.MayAccess(store)
            || (await StreamNames.OfStores(session, [store], request.Cancelled)).GetValueOrDefault(store) is not { } storeName)
            return new(direction, name, await DirectionStores.Of(session, request, direction));
        var weeks = await StoredFigures.Read(session, direction, null, [store], request.Cancelled);
        var ledger = StoreLedger.Of(weeks.Select(week => (week.Version, week.Figures)), request.Now);
        return new(direction, name, []) { Asked = new(store, storeName, LedgerSentences.Asking(name, ledger)) };
    }
}
