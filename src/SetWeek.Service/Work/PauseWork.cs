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

public sealed class PauseWork : IReport
{
    private sealed record Body(string Id, string Task, int? Stint, OffsetDateTime At, int? RemainingMinutes, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/paused", "pauseWork", "Reports that running work is interrupted and can go on at any time")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.22", "task": "canopy.hang", "stint": 1, "at": "2027-03-08T22:20:00+00:00", "remainingMinutes": 20}
            """),
        Replies = [new(204, "The report is recorded; a repeated report changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = ReadBody(json);
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.TakeReport(new WorkPaused(body.Id, body.Task,
                body.Stint ?? 1, time.At, body.RemainingMinutes, time.Clock, body.Corrects)));
    }

    private static Body ReadBody(JsonFields json) => new(
        json.Id("id"), json.Id("task"), json.OptionalInt("stint", 1, WeekLimits.Stints), json.Time("at"),
        json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes), json.OptionalId("corrects"));
}
