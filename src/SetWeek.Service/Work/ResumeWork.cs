using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Json;
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
        Replies = WorkReply.RecordedOrStopped,
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var on = StintReport.Read(json, request);
        var (night, people) = (json.Id("night"), WorkBody.ReadPeople(json));
        return WorkReply.OrStopped(on.Time,
            new WorkResumed(on.Id, on.Task, on.Stint, night, on.Time.At, people, on.Time.Clock, on.Corrects));
    }
}
