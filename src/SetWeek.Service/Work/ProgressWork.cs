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

public sealed class ProgressWork : IReport
{
    private sealed record Body(
        string Id, string Task, int? Stint, OffsetDateTime At, int? RemainingMinutes, int? Done, int? Of, string? Corrects);

    public static Operation Operation => new("POST", "/weeks/{id}/work/progress", "progressWork",
        "Reports how many minutes more running work needs, how many pieces are done, or both")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.21", "task": "canopy.hang", "stint": 1, "at": "2027-03-08T22:10:00+00:00", "remainingMinutes": 25,
             "done": 3, "of": 8}
            """),
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var on = StintReport.Read(json, request);
        var remaining = json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes);
        var (done, of) = (json.OptionalInt("done", 0, WeekLimits.PieceCount), json.OptionalInt("of", 1, WeekLimits.PieceCount));
        if (!json.Has("remainingMinutes") && !json.Has("done")) json.AddFault("Give remainingMinutes, done, or both.");
        if (json.Has("done") != json.Has("of"))
            json.AddFault(json.Has("done") ? "of" : "done", "Give done and of together: 3 of 8 pieces.");
        if (done > of) json.AddFault("done", "More pieces are done than there are; correct one of the numbers.");
        return WorkReply.To(on.Time,
            new WorkProgressed(on.Id, on.Task, on.Stint, on.Time.At, remaining, done, of, on.Time.Clock, on.Corrects));
    }
}
