using System.Globalization;
using Marten;
using NodaTime;
using SetWeek.Domain.Notifications;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Told;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

public sealed class ReadTold : IQuery
{
    /// <param name="NoticeMinutes">The notice period of the week's rules; absent if they have none.</param>
    /// <param name="People">Everybody for a lead; crew see themselves alone. Absent for others, who get the counts.</param>
    /// <param name="Earlier">Earlier issues of which somebody is neither told nor has seen them.</param>
    /// <param name="Consent">What a record of an agreement is not; absent unless a shift changes at short notice.</param>
    public sealed record View(
        int Issue, bool IsCurrent, string Plan, string? PublishedBy, OffsetDateTime? PublishedAt, int? NoticeMinutes,
        ToldCounts Counts, IReadOnlyList<ToldPerson>? People, IReadOnlyList<EarlierIssue> Earlier, string? Consent);

    public static Operation Operation => new("GET", "/weeks/{id}/told", "readTold",
        "Reads who was told what an issue of the plan changes, who has seen it and who agrees")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = [new("issue", "The number of the issue; without it, the published one", "2", typeof(int))],
        Replies =
        [
            new(200, "The issue, as JSON or as a page (Accept: text/html)", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page"),
            new(303, "For a member of the crew who asks for a page: the page of what changes for themselves"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (!TryIssue(request.Query("issue"), out var issue))
            return Refused.With(400, "The issue must be a whole number from 1.", "no-issue");
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is null)
            return await NothingToTell.Of(request, session, week,
                "No plan of this week is published yet, so nobody is to be told of one.");
        var isPage = request.WantsPage;
        if (isPage && request.Caller.Role == Role.Crew && week.Crew.Contains(request.Caller.Person))
            return Answer.SeeOther($"/weeks/{week.Id}/told/{request.Caller.Person}");
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        if (ToldReport.Of(week, crew, issue) is not { } report) return Refused.Missing("issue", $"{issue}");
        report = report with
        {
            People =
                [.. report.People.Where(person => request.Caller.Role == Role.Lead || person.Person == request.Caller.Person)],
        };
        var isForStore = request.Caller.Role is Role.Lead or Role.Crew;
        if (!isPage)
            return Answer.Ok(new View(report.Issue, report.IsCurrent, report.Plan, report.PublishedBy, report.PublishedAt,
                report.NoticeMinutes, report.Counts, isForStore ? report.People : null, report.Earlier,
                report.Counts.AtShortNotice > 0 ? ToldReport.Consent : null)).WithVersion(stream.Version);
        return (await request.Page<ToldPage, ToldPage.Told>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, WeekLinks.ToldFor(request.Caller.Role)),
            $"/weeks/{week.Id}", week.Week.Store.TimeZone, report,
            isForStore, person => crew.Find(person)?.Name ?? person,
            request.Caller.Role == Role.Lead && report.IsCurrent && request.FormToken() is { } token
                ? new ToldPage.Acts(token, request.PlanIds.Next(request.SystemTime)) : null)
        {
            Who = request.ReaderIn(crew),
        })).WithVersion(stream.Version);
    }

    private static bool TryIssue(string? text, out int? issue)
    {
        issue = int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number > 0 ? number : null;
        return text is null || issue is not null;
    }
}
