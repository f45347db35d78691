using Marten;
using NodaTime;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Snags;

public sealed class ListSnags : IQuery
{
    public const string Path = "/snags";

    public sealed record View(IReadOnlyList<SnagEntry> Snags);

    /// <summary>A snag of the list.</summary>
    /// <param name="Number">Its number in its week.</param>
    /// <param name="What">What is wrong; absent if it is erased.</param>
    /// <param name="Accepted">Whether the lead has accepted it as it is.</param>
    /// <param name="Where">Its zone by name, else its display or its task.</param>
    public sealed record SnagEntry(
        string Week, string Store, int Number, string? What, SnagOwnerKind Owner, LocalDate Due, bool Safety, bool Accepted,
        OffsetDateTime RaisedAt, int AgeDays, string Direction, string Where, SnagState State);

    public static Operation Operation
    {
        get
        {
            var list = WeekScan.Operation(Path, "listSnags", "Lists the snags that are not put right", "snags", typeof(View));
            return list with
            {
                MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Region, Role.Lead),
                Query = [.. SnagFilter.Parameters, .. list.Query],
                Replies = [.. list.Replies, Reply.Page("The same as a page: by what somebody could be hurt, then what is late")],
            };
        }
    }

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(page =>
        SnagFilter.Of(request).Match(filter => request.WantsPage
            ? SnagLedger.Page(request, session, page, filter) : List(request, session, page, filter), Task.FromResult),
        Task.FromResult);

    private static async Task<Answer> List(Request request, IQuerySession session, ListPage page, SnagFilter filter)
    {
        var (found, last) = await WeekScan.Page(request, session, page, week => filter.Of(week, request.Now));
        return page.Answer(Path, new View(await WithTexts(session, found, request.Cancelled)), last, filter.Parts);
    }

    /// <summary>The entries with what is wrong, for those whose text is not erased.</summary>
    internal static async Task<IReadOnlyList<SnagEntry>> WithTexts(
        IQuerySession session, IReadOnlyList<FoundSnag> found, CancellationToken cancelled)
    {
        var texts = await SnagNotes.Read(session, found.Select(snag => SnagNotes.IdOf(snag.Entry.Week, snag.Report)), cancelled);
        return [.. found.Select(snag => snag.Entry with
        {
            What = texts.GetValueOrDefault(SnagNotes.IdOf(snag.Entry.Week, snag.Report)),
        })];
    }
}
