using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

public sealed class BlockWork : IReport
{
    private sealed record Body(
        string Id, string Task, int? Stint, OffsetDateTime At, string Reason, int? RemainingMinutes, OffsetDateTime? Until,
        string? Note, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/blocked", "blockWork", "Reports that work is blocked, and why")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.19", "task": "canopy.hang", "at": "2027-03-08T22:10:00+00:00", "reason": "no-access",
             "remainingMinutes": 40, "until": "2027-03-08T23:00:00+00:00", "note": "The lift is booked."}
            """),
        Replies = [new(204, "The report is recorded; a repeated report changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = new Body(
            json.Id("id"), json.Id("task"), json.OptionalInt("stint", 1, WeekLimits.Stints), json.Time("at"),
            json.Choice("reason", [.. BlockReasons.All]),
            json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes), json.OptionalTime("until"),
            json.OptionalText("note", longest: 2000), json.OptionalId("corrects"));
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.TakeReport(new WorkBlocked(body.Id, body.Task, body.Stint ?? 1,
            time.At, body.Reason, body.RemainingMinutes, body.Until, time.Clock, body.Corrects))) { Note = body.Note };
    }
}
