using NodaTime;
using OneOf;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Weeks;

public sealed class RetractReport : IReport
{
    private sealed record Body(string Id, OffsetDateTime At, string? Why);

    public static Operation Operation => new("POST", "/weeks/{id}/reports/{report}/retracted", "retractReport",
        "Takes a report back, for crew one that they entered or had a part in: it counts as never made. It may "
        + "still be on its way")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body),
            """{"id": "phone-3.25", "at": "2027-03-08T22:35:00+00:00", "why": "I pressed the wrong task."}"""),
        Replies = [new(204, "The report is taken back; a repeated retraction changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        // The report is part of the address or, in a phone's queue, a field.
        var retracts = request.Has("report") ? request["report"] : json.Id("report");
        var body = ReadBody(json);
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(),
            (week, enteredBy) => week.Retract(new ReportRetracted(body.Id, retracts, time.At, time.Clock),
                request.Caller.Person, request.Caller.Role == Role.Lead, enteredBy(retracts)))
        {
            Note = body.Why, AsksAbout = retracts,
        };
    }

    private static Body ReadBody(JsonFields json) => new(json.Id("id"), json.Time("at"), json.OptionalText("why", longest: 2000));
}
