using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

public sealed class StopWork : IReport
{
    private sealed record Body(string Id, string Night, string? Zone, OffsetDateTime At, string? Note, string? Corrects);

    public static Operation Operation => new("POST", "/weeks/{id}/work/stopped", "stopWork",
        "Stops the work of a zone, or of the whole store, in a night, because it is not safe. No task starts there until a lead "
        + "lifts the stop")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.24", "night": "night-1", "zone": "window", "at": "2027-03-08T22:30:00+00:00",
             "note": "The glass moves."}
            """),
        Replies = [new(204, "The work is stopped; a repeated report changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = ReadBody(json);
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.Stop(
                new WorkStopped(body.Id, body.Night, body.Zone, time.At, time.Clock, body.Corrects))) { Note = body.Note };
    }

    private static Body ReadBody(JsonFields json) => new(
        json.Id("id"), json.Id("night"), json.OptionalId("zone"), json.Time("at"), json.OptionalText("note", longest: 2000),
        json.OptionalId("corrects"));
}
