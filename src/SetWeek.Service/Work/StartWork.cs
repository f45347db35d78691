using OneOf;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

public sealed class StartWork : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/work/started", "startWork", "Reports that work has started")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(WorkBody), WorkBody.Example),
        Replies =
        [
            new(200, "The report is recorded, and the work is stopped there: do not go on before a lead lifts the stop",
                typeof(StartedAgainstStop)),
            new(204, "The report is recorded; a repeated report changes nothing"),
        ],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = WorkBody.Read(json);
        var time = request.TimeOf(body.At);
        var report = body.Started(time);
        return new FloorReport(time.At.ToInstant(), week => week.TakeReport(report))
        {
            Reply = week => week.StopAgainst(report) is { } stopped ? Answer.Ok(stopped) : Answer.NoContent,
        };
    }
}
