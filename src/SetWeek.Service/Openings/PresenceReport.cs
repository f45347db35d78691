using NodaTime;
using OneOf;
using SetWeek.Domain.Openings;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Openings;

/// <summary>A report that somebody came or left. A member of the crew reports it of themselves, a lead of everybody.</summary>
internal static class PresenceReport
{
    public sealed record Body(string Id, string Person, OffsetDateTime At, string? Corrects);

    public static RequestBody Shape => new(typeof(Body), """
        {"id": "phone-3.2", "person": "jonah", "at": "2027-03-08T19:40:00+00:00"}
        """);

    public static OneOf<FloorReport, Answer> Read(
        JsonFields json, Request request, Func<string, Body, ReportTime, INightReport> report)
    {
        var night = NightReport.NightOf(json, request);
        var body = new Body(json.Id("id"), json.Id("person"), json.Time("at"), json.OptionalId("corrects"));
        if (request.Caller.Role != Role.Lead && body.Person != request.Caller.Person)
            return Refused.With(403, "You report this of yourself only. Ask the lead to report it of others.", "other-person");
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.RecordPresence(report(night, body, time), body.Person));
    }
}
