using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Exports;

public sealed class ReadHours : IQuery
{
    public sealed record View(string Week, IReadOnlyList<HoursView> Hours);

    /// <param name="Name">The id of a person who is erased.</param>
    /// <param name="From">The start of the published shift; absent for somebody who worked without one.</param>
    /// <param name="PlannedMinutes">Paid minutes of the shift: without its break.</param>
    /// <param name="WorkedMinutes">
    /// Minutes from each reported start of work to the reported pause, block or finish; absent if none is reported.
    /// </param>
    public sealed record HoursView(
        string Night, string Person, string Name, OffsetDateTime? From, OffsetDateTime? To, int PlannedMinutes,
        int? WorkedMinutes);

    public static Operation Operation => new("GET", "/weeks/{id}/hours", "readHours",
        "Reads the hours of each person and night: as published, and as reported")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The hours, as JSON, as a table (Accept: text/csv) or as a page (Accept: text/html)", typeof(View)),
            Reply.Table("The hours as a table"),
            Reply.Page("The hours as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await PublishedWeek.Read(request, session)).Match(
            published => request.PreferredType("application/json", "text/csv", "text/html") switch
            {
                "application/json" => Task.FromResult(Answer.Ok(new View(request.Id, [.. ViewsOf(published)]))),
                "text/csv" => Task.FromResult(Answer.Table(HoursCsv.Of(published.Week, published.Hours))),
                "text/html" => Page(request, session, published),
                _ => Task.FromResult(Refused.With(406, "Hours are available as application/json, text/csv or text/html.")),
            },
            Task.FromResult);

    private static async Task<Answer> Page(Request request, IQuerySession session, PublishedWeek published)
    {
        var week = (await Streams.Week(session, request.Id, request.Cancelled)).State!;
        var words = new WeekLabels(published.Week);
        return await request.Page<HoursPage, HoursPage.Hours>(
            new(await session.TitleOf(week, request.Cancelled), published.Week.Store.TimeZone,
                [.. ViewsOf(published).GroupBy(hours => hours.Night).Select(night => NightOf(words, night.Key, night))])
            {
                Links = WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Week"),
                Reader = await session.ReaderOf(week.Id, request),
                Table = $"/weeks/{week.Id}/hours.csv",
            });
    }

    private static HoursPage.Night NightOf(WeekLabels words, string night, IEnumerable<HoursView> people)
    {
        var clocksChange = words.ClocksChange(night);
        return new(words.NightName(night), clocksChange, [.. people.Select(hours => new HoursPage.Row(hours.Name,
            hours is { From: { } from, To: { } to }
                ? $"{WeekLabels.Time(from, clocksChange)}–{WeekLabels.Time(to, clocksChange)}" : "no shift",
            GoalLabels.Length(hours.PlannedMinutes),
            hours.WorkedMinutes is { } worked ? GoalLabels.Length(worked) : "nothing yet"))]);
    }

    private static IEnumerable<HoursView> ViewsOf(PublishedWeek published)
    {
        var words = new WeekLabels(published.Week);
        return published.Hours.Select(hours => new HoursView(hours.Night, hours.Person, words.Person(hours.Person),
            hours.Shift?.From, hours.Shift?.To, hours.PlannedMinutes, hours.WorkedMinutes));
    }
}
