using Marten;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

public sealed class AnswerChanges : ICommand
{
    /// <param name="Issue">The issue that the person has read; left out: the published one.</param>
    private sealed record Body(ChangesAnswer Answer, int? Issue);

    public static Operation Operation => new("POST", "/weeks/{id}/told/{person}/answer", "answerChanges",
        "Answers what the published plan changes for a person: seen, agreed or declined")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """{"answer": "agreed", "issue": 2}"""),
        Replies = [new(204, "It is recorded, and replaces an earlier answer; a lead's is marked as recorded for the person")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (ReadPersonChanges.NotTheirs(request) is { } refusal) return refusal;
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return week.AnswerChanges(crew, body.Issue, request["person"], body.Answer, request.Now, request.Caller.Person).Match(
            answered => Answer.NoContent.WithVersion(stream.Append(session, answered)), Refused.For);
    }

    private static Body Read(JsonFields json) =>
        new(json.Choice<ChangesAnswer>("answer"), json.OptionalInt("issue", 1, TellPeople.MaxIssue));
}
