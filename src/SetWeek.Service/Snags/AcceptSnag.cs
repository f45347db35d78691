using OneOf;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

public sealed class AcceptSnag : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/snags/{snag}/accepted-open", "acceptSnag",
        "Accepts a snag as it is at the hand-over. Not one by which somebody could be hurt")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(SnagBody.Act),
            """{"id": "phone-3.35", "at": "2027-03-09T00:20:00+00:00", "note": "Behind the panel, not seen."}"""),
        Replies = [SnagBody.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request) => SnagBody.Report(json, request,
        (body, snag, time) =>
            new SnagAcceptedOpen(body.Id, snag, request.Caller.Person, time.At, body.Photos, time.Clock, body.Corrects));
}
