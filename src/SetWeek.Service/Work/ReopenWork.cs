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

public sealed class ReopenWork : IReport
{
    private sealed record Body(string Id, string Task, int? Stint, OffsetDateTime At, string? Note, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/reopened", "reopenWork", "Reports that a check failed and the work must be done again")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"id": "phone-1.20", "task": "canopy.hang", "at": "2027-03-09T00:30:00Z"}"""),
        Replies = [new(204, "The report is recorded; a repeated report changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = new Body(
            json.Id("id"), json.Id("task"), json.OptionalInt("stint", 1, WeekLimits.Stints), json.Time("at"),
            json.OptionalText("note", longest: 2000), json.OptionalId("corrects"));
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.TakeReport(
            new WorkReopened(body.Id, body.Task, body.Stint ?? 1, time.At, time.Clock, body.Corrects))) { Note = body.Note };
    }
}
