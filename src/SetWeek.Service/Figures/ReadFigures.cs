using System.Globalization;
using Marten;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Figures;

public sealed class ReadFigures : IQuery
{
    private const int MaxLimit = 500, DefaultLimit = 100;

    public sealed record View(Sums Total, IReadOnlyList<WeekView> Weeks);

    /// <summary>Sums over all weeks that the filters select, on this page or not.</summary>
    public sealed record Sums(
        int Weeks, int Done, int AtRisk, int Displays, int DisplaysDone, int Tasks, int TasksDone, int Running, int Blocked);

    public sealed record WeekView(long Version, WeekFigures Figures, WeekOutlook Outlook);

    public static Operation Operation => new("GET", "/figures", "readFigures", "Reads how far the weeks are, with their sums")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Lead, Role.Engineer),
        Query =
        [
            new("direction", "Only weeks of this direction", "first-rain"),
            new("store", "Only weeks of this store", "harbour-street"),
            new("after", "The id of the last week of the page before", "first-rain.harbour-street"),
            new("limit", $"Weeks on a page, 1 to {MaxLimit}", DefaultLimit.ToString(CultureInfo.InvariantCulture)),
        ],
        Replies = [new(200, "The weeks that the caller's stores reach, in the order of their ids; follow the Link with rel=next",
            typeof(View))],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((request.Query("limit") is { } given ? Limit(given) : DefaultLimit) is not { } limit)
            return Refused.With(400, $"The limit must be a whole number from 1 to {MaxLimit}.", "no-limit");
        var (direction, store, after) = (request.Query("direction"), request.Query("store"), request.Query("after") ?? "");
        var selected = (await StoredFigures.All(session, request.Cancelled))
            .Where(row => (direction is null || row.Figures.Direction == direction)
                && (store is null || row.Figures.Store == store) && request.Caller.MayAccess(row.Figures.Store))
            .Select(row => new WeekView(row.Version, row.Figures, WeekOutlook.Of(row.Figures, request.Now))).ToList();
        var page = selected.Where(week => string.CompareOrdinal(week.Figures.Week, after) > 0).Take(limit + 1).ToList();
        var answer = Answer.Ok(new View(SumsOf(selected), [.. page.Take(limit)]));
        return page.Count <= limit ? answer : answer with
        {
            Link = $"</figures?after={page[limit - 1].Figures.Week}&limit={limit}{Filter("direction", direction)}"
                + $"{Filter("store", store)}>; rel=\"next\"",
        };
    }

    private static Sums SumsOf(IReadOnlyList<WeekView> weeks) => new(
        weeks.Count, weeks.Count(week => week.Figures.Stage == WeekStage.Done), weeks.Count(week => week.Outlook.AtRisk),
        weeks.Sum(week => week.Figures.Displays), weeks.Sum(week => week.Figures.DisplaysDone),
        weeks.Sum(week => week.Figures.Tasks), weeks.Sum(week => week.Figures.TasksDone),
        weeks.Sum(week => week.Figures.Running), weeks.Sum(week => week.Figures.Blocked));

    private static string Filter(string name, string? value) => value is null ? "" : $"&{name}={Uri.EscapeDataString(value)}";

    private static int? Limit(string text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var limit) && limit is >= 1 and <= MaxLimit
            ? limit : null;
}
