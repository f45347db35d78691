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

public sealed class ResumeWork : IReport
{
    private sealed record Body(
        string Id, string Task, int? Stint, string Night, OffsetDateTime At, IReadOnlyList<string>? People, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/resumed", "resumeWork", "Reports that paused or blocked work goes on")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.23", "task": "canopy.hang", "stint": 1, "night": "night-1", "at": "2027-03-08T22:40:00+00:00",
             "people": ["c1"]}
            """),
        Replies =
        [
            new(200, "The report is recorded, and the work is stopped there: do not go on before a lead lifts the stop",
                typeof(StartedAgainstStop)),
            new(204, "The report is recorded; a repeated report changes nothing"),
        ],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = ReadBody(json);
        var time = request.TimeOf(body.At);
        var report = new WorkResumed(
            body.Id, body.Task, body.Stint ?? 1, body.Night, time.At, body.People, time.Clock, body.Corrects);
        return new FloorReport(time.At.ToInstant(), week => week.TakeReport(report))
        {
            Reply = week => week.StopAgainst(report) is { } stopped ? Answer.Ok(stopped) : Answer.NoContent,
        };
    }

    private static Body ReadBody(JsonFields json) => new(
        json.Id("id"), json.Id("task"), json.OptionalInt("stint", 1, WeekLimits.Stints), json.Id("night"), json.Time("at"),
        WorkBody.ReadPeople(json), json.OptionalId("corrects"));
}
