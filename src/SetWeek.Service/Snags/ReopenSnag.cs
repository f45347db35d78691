using OneOf;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

public sealed class ReopenSnag : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/snags/{snag}/not-fixed", "reopenSnag",
        "Reports that a snag is not right after all, or no longer accepted as it is")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(SnagBody.Act),
            """{"id": "phone-3.33", "at": "2027-03-08T23:40:00+00:00", "note": "The filler has sunk."}"""),
        Replies = [SnagBody.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request) => SnagBody.Report(json, request,
        (body, snag, time) =>
            new SnagReopened(body.Id, snag, request.Caller.Person, time.At, body.Photos, time.Clock, body.Corrects));
}
