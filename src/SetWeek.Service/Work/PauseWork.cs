using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events;
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
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var on = StintReport.Read(json, request);
        var remaining = json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes);
        return WorkReply.To(on.Time,
            new WorkPaused(on.Id, on.Task, on.Stint, on.Time.At, remaining, on.Time.Clock, on.Corrects));
    }
}
