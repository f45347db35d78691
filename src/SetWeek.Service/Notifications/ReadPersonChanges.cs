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

public sealed class ReadPersonChanges : IQuery
{
    /// <param name="Changes">Absent if the issue changes nothing for the person.</param>
    /// <param name="Consent">
    /// What a record of an agreement is not; absent unless a shift of theirs changes at short notice.
    /// </param>
    public sealed record View(
        int Issue, string? PublishedBy, OffsetDateTime? PublishedAt, string Person, string Name, ToldPerson? Changes,
        string? Consent);

    public static Operation Operation => new("GET", "/weeks/{id}/told/{person}", "readPersonChanges",
        "Reads what the published plan changes for a person; if they read it themselves, that is recorded once")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Replies =
        [
            new(200, "What changes, as JSON or as a page (Accept: text/html)", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is null) return Refused.Missing("week", request.Id);
        if (NotTheirs(request) is { } refusal) return refusal;
        var person = request["person"];
        if (person == request.Caller.Person) stream = await request.RecordSeen(session, stream);
        var week = stream.State!;
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        if (crew.Find(person) is not { } member) return Refused.Missing("person", person);
        if (ToldReport.Of(week, crew) is not { } report)
            return await NothingToTell.Of(request, session, week,
                "No plan of this week is published yet, so nothing changes for anybody.");
        var changes = report.People.FirstOrDefault(known => known.Person == person);
        if (!request.WantsPage)
            return Answer.Ok(new View(report.Issue, report.PublishedBy, report.PublishedAt, person, member.Name, changes,
                changes is { AtShortNotice: true } ? ToldReport.Consent : null)).WithVersion(stream.Version);
        return (await request.Page<OwnChangesPage, OwnChangesPage.Own>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, WeekLinks.ToldFor(request.Caller.Role)),
            $"/weeks/{week.Id}", week.Week.Store.TimeZone,
            report.Issue, report.PublishedAt, member.Name, changes, person == request.Caller.Person,
            person == request.Caller.Person && request.FormToken() is { } token
                ? new ToldPage.Acts(token, request.PlanIds.Next(request.SystemTime)) : null)
        {
            Who = request.ReaderIn(crew),
        })).WithVersion(stream.Version);
    }

    /// <summary>Crew read and answer for themselves alone.</summary>
    internal static Answer? NotTheirs(Request request) =>
        request.Caller.Role == Role.Lead || request["person"] == request.Caller.Person ? null
        : Refused.With(403, "This is about somebody else. Your own changes are at the address with your id.", "another-person");
}
