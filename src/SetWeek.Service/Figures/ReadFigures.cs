using Marten;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Figures;

public sealed class ReadFigures : IQuery
{
    public sealed record View(Sums Total, IReadOnlyList<WeekView> Weeks);

    /// <summary>Sums over all weeks that the filters select, on this page or not.</summary>
    public sealed record Sums(
        int Weeks, int Done, int AtRisk, int Displays, int DisplaysDone, int Tasks, int TasksDone, int Running, int Blocked);

    public sealed record WeekView(long Version, WeekFigures Figures, WeekOutlook Outlook);

    public static Operation Operation => new("GET", "/figures", "readFigures", "Reads how far the weeks are, with their sums")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Lead, Role.Engineer, Role.Region),
        Query =
        [
            new("direction", "Only weeks of this direction", "first-rain"),
            new("store", "Only weeks of this store", "harbour-street"), WeekScan.RegionFilter,
            .. ListPage.Query,
        ],
        Replies = [new(200, "The weeks that the caller's stores reach, in the order of their ids; follow the Link with rel=next",
            typeof(View)) { HasLink = true }],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var (direction, store) = (request.Query("direction"), request.Query("store"));
        var region = request.Query(WeekScan.RegionFilter.Name);
        var stores = region is null ? null : (await WeekScan.StoresOf(session, region, request.Cancelled)).ToHashSet();
        var selected = (await StoredFigures.All(session, request.Cancelled))
            .Where(row => (direction is null || row.Figures.Direction == direction)
                && (stores is null || stores.Contains(row.Figures.Store)) && (store is null || row.Figures.Store == store)
                && request.Caller.MayAccess(row.Figures.Store))
            .Select(row => new WeekView(row.Version, row.Figures, WeekOutlook.Of(row.Figures, request.Now))).ToList();
        var rest = selected.Where(week => string.CompareOrdinal(week.Figures.Week, page.After) > 0).ToList();
        var last = rest.Count > page.Limit ? rest[page.Limit - 1].Figures.Week : null;
        return page.Answer("/figures", new View(SumsOf(selected), [.. rest.Take(page.Limit)]), last,
            ("direction", direction), ("store", store), (WeekScan.RegionFilter.Name, region));
    }, Task.FromResult);

    private static Sums SumsOf(IReadOnlyList<WeekView> weeks) => new(
        weeks.Count, weeks.Count(week => week.Figures.Stage == WeekStage.Done), weeks.Count(week => week.Outlook.AtRisk),
        weeks.Sum(week => week.Figures.Displays), weeks.Sum(week => week.Figures.DisplaysDone),
        weeks.Sum(week => week.Figures.Tasks), weeks.Sum(week => week.Figures.TasksDone),
        weeks.Sum(week => week.Figures.Running), weeks.Sum(week => week.Figures.Blocked));
}
