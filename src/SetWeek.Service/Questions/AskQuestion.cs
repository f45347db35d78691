using Marten;
using NodaTime;
using SetWeek.Domain.Questions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

public sealed class AskQuestion : ICommand
{
    public const int LongestText = 2000;

    private sealed record Body(
        string Id, Addressee For, string Text, OffsetDateTime At, string? Task, int? Stint, string? Block,
        string? Display);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/questions", "askQuestion", "Asks the lead or head office something")
        {
            MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
            Body = new(typeof(Body), """
                {"id": "phone-3.q1", "for": "headOffice", "text": "May the rail go 20 cm lower?",
                 "at": "2027-03-08T22:12:00+00:00", "task": "canopy.hang", "stint": 1, "block": "phone-3.19"}
                """),
            Replies = [new(204, "The question is recorded; a repeated question changes nothing")],
        };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var time = request.TimeOf(body.At);
        session.HappenedAt(time.At.ToInstant());
        var asked = new QuestionAsked(
            body.Id, body.Task, body.Stint, body.Block, body.For, time.At, time.Clock, body.Display, request.Caller.Person);
        return week.Ask(asked).Match(events =>
        {
            if (events.Count == 0) return Answer.NoContent.WithVersion(stream.Version);
            session.Store(new Note(WeekQuestion.TextIdOf(week.Id, body.Id), body.Text));
            return Answer.NoContent.WithVersion(stream.Append(session, events));
        }, Refused.For);
    }

    private static Body Read(JsonFields json)
    {
        var body = new Body(json.Id("id"), json.Choice<Addressee>("for"), json.Text("text", LongestText), json.Time("at"),
            json.OptionalId("task"), json.OptionalInt("stint", 1, WeekLimits.Stints), json.OptionalId("block"),
            json.OptionalId("display"));
        if (json.Has("stint") && !json.Has("task"))
            json.AddFault("stint", "A stint needs its task; give task, or remove this field.");
        return body;
    }
}
