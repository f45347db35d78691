using NodaTime;
using OneOf;
using SetWeek.Domain.Openings;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Openings;

public sealed class RecordOpening : IReport
{
    private const int MostItems = 50;

    private sealed record Body(
        string Id, OffsetDateTime At, string FirstAider, IReadOnlyList<string>? Here = null, IReadOnlyList<string>? Said = null,
        string? Corrects = null);

    public static Operation Operation => new("POST", "/weeks/{id}/nights/{night}/opening", "openNight",
        "Opens a night: who is there, who gives first aid, and what was said aloud")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """
            {"id": "phone-3.1", "at": "2027-03-08T19:02:00+00:00", "here": ["wren", "noor"], "firstAider": "noor",
             "said": ["exits", "first-aid", "order", "cautions"]}
            """),
        Replies = [NightReport.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var night = NightReport.NightOf(json, request);
        var body = new Body(json.Id("id"), json.Time("at"), json.Id("firstAider"),
            json.OptionalList("here", person => person.Id(), WeekLimits.People),
            json.OptionalList("said", item => item.Id(), MostItems), json.OptionalId("corrects"));
        var time = request.TimeOf(body.At);
        return new FloorReport(time.At.ToInstant(), week => week.OpenNight(new NightOpened(
            body.Id, night, time.At, request.Caller.Person, body.Here!, body.FirstAider, body.Said!, time.Clock, body.Corrects)));
    }
}
