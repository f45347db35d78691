using NodaTime;
using OneOf;
using SetWeek.Domain.Showings;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Showings;

/// <summary>Whoever was shown a display signs for it; a lead records it for others, and the record says so.</summary>
public sealed class RecordShowing : IReport
{
    private sealed record Body(string Id, OffsetDateTime At, string ShownBy, IReadOnlyList<string> To, string? Corrects);

    public static Operation Operation => new("POST", "/weeks/{id}/displays/{display}/shown", "recordShowing",
        "Records that a display was shown before its work begins: by whom and to whom. Crew sign for themselves, a lead records "
        + "for others")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(Body), """
            {"id": "phone-3.15", "at": "2027-03-08T21:40:00+00:00", "shownBy": "lena", "to": ["wren"]}
            """),
        Replies = [new(204, "The report is recorded; a repeated report changes nothing")],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        // The display is part of the address or, in a phone's queue, a field.
        var display = request.Has("display") ? request["display"] : json.Id("display");
        var body = new Body(json.Id("id"), json.Time("at"), json.Id("shownBy"),
            json.List("to", person => person.Id(), WeekLimits.People, least: 1), json.OptionalId("corrects"));
        var (caller, isLead) = (request.Caller.Person, request.Caller.Role == Role.Lead);
        if (!isLead && body.To.Any(person => person != caller))
            return Refused.With(403, "You sign for yourself only. Ask the lead to record it for others.", "other-person");
        var time = request.TimeOf(body.At);
        var shown = new DisplayShown(body.Id, display, time.At, body.ShownBy, [.. body.To.Distinct()], caller, isLead, time.Clock,
            body.Corrects);
        return new FloorReport(time.At.ToInstant(), week => week.RecordShown(shown));
    }
}
