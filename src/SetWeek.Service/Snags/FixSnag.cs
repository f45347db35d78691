using OneOf;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

public sealed class FixSnag : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/snags/{snag}/fixed", "fixSnag",
        "Reports that a snag was put right. The snag is named by its number, or by the report that raised it")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(SnagBody.Act),
            """{"id": "phone-3.32", "at": "2027-03-08T23:10:00+00:00", "note": "Filled and painted."}"""),
        Replies = [SnagBody.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request) => SnagBody.Report(json, request,
        (body, snag, time) =>
            new SnagFixed(body.Id, snag, request.Caller.Person, time.At, body.Photos, time.Clock, body.Corrects));
}
