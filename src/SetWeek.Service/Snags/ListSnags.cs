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
    private const string Path = "/snags";

    public sealed record View(IReadOnlyList<SnagEntry> Snags);

    /// <summary>A snag that is not put right.</summary>
    /// <param name="Number">Its number in its week.</param>
    /// <param name="What">What is wrong; absent if it is erased.</param>
    /// <param name="Accepted">Whether the lead has accepted it as it is.</param>
    public sealed record SnagEntry(
        string Week, string Store, int Number, string? What, SnagOwnerKind Owner, LocalDate Due, bool Safety, bool Accepted,
        OffsetDateTime RaisedAt, int AgeDays);

    public static Operation Operation =>
        WeekScan.Operation(Path, "listSnags", "Lists the snags that are not put right", "snags", typeof(View)) with
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Region, Role.Lead),
        };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var (found, last) = await WeekScan.Page(request, session, page, week =>
        {
            var zone = DateTimeZoneProviders.Tzdb[week.TimeZone];
            var today = request.Now.InZone(zone).Date;
            return SnagStatus.AllOf(week.Snags).Where(snag => snag.IsOpen).Select(snag => ($"{week.Id}/{snag.Number:D6}",
                (Report: snag.Raised.Report, Entry: new SnagEntry(week.Id, week.Store, snag.Number, null, snag.Owner.Kind,
                    snag.Due, snag.Raised.Safety, snag.State == SnagState.Accepted, snag.Raised.At,
                    SnagView.AgeOf(snag.Raised, zone, today)))));
        });
        var texts = await SnagNotes.Read(
            session, found.Select(snag => SnagNotes.IdOf(snag.Entry.Week, snag.Report)), request.Cancelled);
        return page.Answer(Path, new View([.. found.Select(snag => snag.Entry with
            {
                What = texts.GetValueOrDefault(SnagNotes.IdOf(snag.Entry.Week, snag.Report)),
            })]), last, (WeekScan.StoreFilter.Name, request.Query(WeekScan.StoreFilter.Name)),
            (WeekScan.RegionFilter.Name, request.Query(WeekScan.RegionFilter.Name)));
    }, Task.FromResult);
}
