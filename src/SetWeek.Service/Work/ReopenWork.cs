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

public sealed class ReopenWork : IReport
{
    private sealed record Body(string Id, string Task, int? Stint, OffsetDateTime At, string? Note, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/reopened", "reopenWork", "Reports that a check failed and the work must be done again")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"id": "phone-1.20", "task": "canopy.hang", "at": "2027-03-09T00:30:00Z"}"""),
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var on = StintReport.Read(json, request);
        return WorkReply.To(on.Time, new WorkReopened(on.Id, on.Task, on.Stint, on.Time.At, on.Time.Clock, on.Corrects))
            with { Note = json.OptionalText("note", longest: 2000) };
    }
}
