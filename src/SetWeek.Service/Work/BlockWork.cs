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
        string? Note, IReadOnlyList<string>? Photos, string? Corrects);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/work/blocked", "blockWork", "Reports that work is blocked, and why")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(Body), """
            {"id": "phone-3.19", "task": "canopy.hang", "at": "2027-03-08T22:10:00+00:00", "reason": "no-access",
             "remainingMinutes": 40, "until": "2027-03-08T23:00:00+00:00", "note": "The lift is booked."}
            """),
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var on = StintReport.Read(json, request);
        var reason = json.Choice("reason", [.. BlockReasons.All]);
        var (remaining, until) = (json.OptionalInt("remainingMinutes", 1, WeekLimits.Minutes), json.OptionalTime("until"));
        return WorkReply.To(on.Time,
            new WorkBlocked(on.Id, on.Task, on.Stint, on.Time.At, reason, remaining, until, on.Time.Clock, on.Corrects,
                PhotoIds.Read(json)))
            with { Note = json.OptionalText("note", longest: 2000) };
    }
}
