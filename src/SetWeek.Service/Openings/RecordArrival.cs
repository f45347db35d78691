using OneOf;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Openings;

public sealed class RecordArrival : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/nights/{night}/came", "recordArrival",
        "Records that somebody came into the store after the night was opened. Paid hours do not follow from it")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = PresenceReport.Shape,
        Replies = [NightReport.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request) => PresenceReport.Read(json, request,
        (night, body, time) => new PersonCame(body.Id, night, body.Person, time.At, time.Clock, body.Corrects));
}
