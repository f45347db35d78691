using Marten;
using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Feed;
using SetWeek.Service.Figures;
using SetWeek.Service.Following;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Memos;
using SetWeek.Service.Pages.HeadOffice;
using SetWeek.Service.Questions;
using SetWeek.Service.Revisions;
using SetWeek.Service.Words;

namespace SetWeek.Service.Stores;

/// <summary>
/// The stores of a chain as a page. It reads what the followers keep, a row a week, in a fixed number of queries, and folds no
/// week. The names of stores are read only for those that the page shows.
/// </summary>
internal static class LedgerView
{
    private const int MostQuestions = 10;

    /// <summary>Weeks that launched longer ago are shown with their direction only.</summary>
    private static readonly Period Past = Period.FromDays(7);

    public static Task<Answer> Page(Request request, IQuerySession session) => LedgerFilter.Of(request).Match(
        filter => Page(request, session, filter), Task.FromResult);

    private static async Task<Answer> Page(Request request, IQuerySession session, LedgerFilter filter)
    {
        var (caller, cancelled) = (request.Caller, request.Cancelled);
        var reachesAll = caller.Stores.Contains(Caller.AnyStore);
        IReadOnlyList<string>? stores = filter.Region is { } region
            ? [.. (await WeekScan.StoresOf(session, region, cancelled)).Where(caller.MayAccess)]
            : reachesAll ? null : caller.Stores;
        // Before the figures: what is followed meanwhile is then in the stream too, and the page is read once more than needed.
        var follow = caller.HasRole(StreamStores.Operation.MayUse)
            ? $"{StreamStores.Operation.Path}?{StreamFeed.After.Name}="
                + FeedCursor.Write(await FollowerPlaces.Read(session, FiguresFollower.FollowerName, cancelled))
            : null;
        var recent = request.Now.InUtc().Date - Past;
        var rows = await StoredFigures.Read(session, filter.Direction, filter.Direction is null ? recent : null, stores,
            cancelled);
        var parts = LedgerParts.Of(StoreLedger.Of(rows.Select(row => (row.Version, row.Figures)), request.Now), filter,
            isPlain: caller.Role == Role.Crew);
        var words = new LedgerWords(
            await StreamNames.OfStores(session, parts.Shown.Select(week => week.Figures.Store), cancelled),
            await StreamNames.OfDirections(session,
                rows.Select(row => row.Figures.Direction).Concat(filter.Direction is { } one ? [one] : []), cancelled));
        var regions = reachesAll ? await StreamNames.OfRegions(session, cancelled) : new Dictionary<string, string>();
        var asked = await Asked(request, session, filter, stores);
        var behind = Math.Max(await FollowerPlaces.Behind(session, FiguresFollower.FollowerName, cancelled),
            asked is null ? 0 : await FollowerPlaces.Behind(session, QuestionFollower.FollowerName, cancelled));
        var zone = rows.CountBy(row => row.Figures.TimeZone).OrderByDescending(count => count.Value)
            .Select(count => count.Key).FirstOrDefault() ?? DateTimeZone.Utc.Id;
        var now = request.Now.InZone(DateTimeZoneProviders.Tzdb[zone]).LocalDateTime;

        return await request.Page<StoresPage, StoresPage.Ledger>(new(caller.Tenant, caller.Role,
            $"Stores, {WeekLabels.Day(now)}", filter.Address, [.. parts.Sentences(words, asked?.Count ?? 0, MostQuestions)],
            $"As known at {WeekLabels.Time(now)} ({zone})." + (behind == 0 ? ""
                : $" {LedgerSentences.Count(behind, "later event is", "later events are")} not counted yet."))
        {
            Directions = FilterChoice.Of(words.Directions, filter.Direction),
            Regions = FilterChoice.Of(regions, filter.Region),
            Shows = parts.IsPlain ? [] : FilterChoice.Of(LedgerFilter.Sections, filter.Section),
            Sections = parts.Sections(words, AddressOfAsking),
            Questions = asked is null ? null
                : await ShownQuestions.Of(session, request, [.. asked.Take(MostQuestions)], filter.Address),
            Rest = parts.RestOf(words),
            Idle = filter is { Direction: null, Section: null } && caller.Role is Role.Lead or Role.HeadOffice
                ? await IdleStores.Read(session, stores, recent, cancelled) : IdleStores.None,
            OpensStores = caller.HasRole(ReadStoreForm.Operation.MayUse),
            Follow = follow,
            IsBehind = behind > 0,
            Token = caller.HasRole(ChooseDisplay.Operation.MayUse) ? request.FormToken() : null,
        });

        // A memo is for weeks that launch after it was sent.
        string? AddressOfAsking(WeekFigures week) => caller.HasRole(SendMemo.Operation.MayUse)
            && week.Launch.InZoneLeniently(DateTimeZoneProviders.Tzdb[week.TimeZone]).ToInstant() > request.Now
                ? ListMemos.AddressOfAsking(week.Direction, week.Store) : null;
    }

    /// <summary>The questions that wait for the reader; null where the page does not show them.</summary>
    private static async Task<IReadOnlyList<StoredQuestion>?> Asked(
        Request request, IQuerySession session, LedgerFilter filter, IReadOnlyList<string>? stores)
    {
        if (filter.Section is not null || !request.Caller.HasRole(ReadQuestions.Operation.MayUse)) return null;
        var asked = new StoredQuestion.Filter(filter.Direction, IsAnswered: false,
            For: request.Caller.Role == Role.Lead ? Addressee.Lead : Addressee.HeadOffice, Stores: stores);
        return [.. (await StoredQuestion.Read(session, asked, "", MostQuestions + 1, request.Cancelled))
            .Select(found => found.Question)];
    }
}
