using NodaTime;
using OneOf;
using SetWeek.Domain.Closings;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Openings;

namespace SetWeek.Service.Closings;

/// <summary>Nothing here takes a code of an alarm or of a door: such a code is written nowhere.</summary>
public sealed class RecordClosing : IReport
{
    private sealed record Body(
        string Id, OffsetDateTime At, IReadOnlyList<string> Out, IReadOnlyList<CheckAnswers.Given> Answers,
        IReadOnlyList<HalfSecuredWork>? HalfSecured = null, IReadOnlyList<string>? ShutZones = null, string? Why = null,
        string? Corrects = null);

    public static Operation Operation => new("POST", "/weeks/{id}/nights/{night}/closing", "closeNight",
        "Closes a night: everybody out by name, the checks of closing, and a decision about each thing that is half-secured")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """
            {"id": "phone-3.60", "at": "2027-03-09T01:20:00+00:00", "out": ["wren", "noor"],
             "answers": [{"check": "exits", "answer": "good"},
                         {"check": "rubbish", "answer": "notGood", "why": "The gate sticks."}],
             "halfSecured": [{"task": "canopy.second", "decision": "shutOff"}], "shutZones": ["window"],
             "why": "Two of six second lines hold; nobody goes under it before the rest is on."}
            """),
        Replies = [NightReport.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var night = NightReport.NightOf(json, request);
        var body = ReadBody(json);
        var time = request.TimeOf(body.At);
        var closing = new NightClosed(body.Id, night, time.At, request.Caller.Person, body.Out,
            [.. body.Answers.Select(answer => answer.Answered)], body.HalfSecured!, body.ShutZones!, [], time.Clock,
            body.Corrects);
        var reasons = CheckAnswers.ReasonsOf(request.Id, body.Id, body.Answers);
        return new FloorReport(time.At.ToInstant(), week => week.CloseNight(closing))
        {
            Texts = body.Why is { } why ? [.. reasons, new Note(ReasonNotes.DecisionIdOf(request.Id, body.Id), why)] : reasons,
        };
    }

    private static Body ReadBody(JsonFields json)
    {
        var body = new Body(json.Id("id"), json.Time("at"), json.List("out", person => person.Id(), WeekLimits.People),
            CheckAnswers.Read(json, "answers"),
            json.OptionalList("halfSecured", work => work.Object(decided =>
                new HalfSecuredWork(decided.Id("task"), decided.Choice<HalfSecuredDecision>("decision"))), WeekLimits.Tasks),
            json.OptionalList("shutZones", zone => zone.Id(), WeekLimits.Zones), json.OptionalText("why", 2000),
            json.OptionalId("corrects"));
        if (body is { HalfSecured.Count: > 0, Why: null })
            json.AddFault("why", "Say in words why something stays half-secured, and how people are kept away from it.");
        return body;
    }
}
