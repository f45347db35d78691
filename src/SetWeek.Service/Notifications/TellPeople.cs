using Marten;
using NodaTime;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

public sealed class TellPeople : ICommand
{
    internal const int MaxIssue = 1_000_000;

    private const int MostPeople = 200;

    /// <param name="At">Store-local; left out: now.</param>
    /// <param name="Issue">The issue that the lead has read; left out: the published one.</param>
    private sealed record Body(IReadOnlyList<string> People, ToldHow How, LocalDateTime? At, int? Issue);

    public static Operation Operation => new("POST", "/weeks/{id}/told", "tellPeople",
        "Records that people were told what the published plan changes for them")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"people": ["c1", "c2"], "how": "called", "at": "2027-03-08T14:10", "issue": 2}"""),
        Replies = [new(204, "It is recorded; a repetition changes nothing")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var at = body.At is { } local ? StoreTime.InstantOf(week, local) : request.Now;
        return week.Tell(crew, body.Issue, body.People, body.How, at, request.Now, request.Caller.Person).Match(
            told => Answer.NoContent.WithVersion(stream.Append(session, told)), Refused.For);
    }

    private static Body Read(JsonFields json) => new(
        json.List("people", person => person.Id(), MostPeople), json.Choice<ToldHow>("how"), json.OptionalLocalTime("at"),
        json.OptionalInt("issue", 1, MaxIssue));
}
