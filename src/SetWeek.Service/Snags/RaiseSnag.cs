using NodaTime;
using OneOf;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

public sealed class RaiseSnag : IReport
{
    private sealed record Body(
        string Id, OffsetDateTime At, string What, string? Why, string? Zone, string? Display, int? Piece, SnagOwnerKind Owner,
        string? Person, string? Trade, LocalDate Due, bool? Safety, IReadOnlyList<string>? Photos, string? Corrects);

    /// <param name="Snag">The number of the snag in its week.</param>
    public sealed record Raised(int Snag);

    public static Operation Operation => new("POST", "/weeks/{id}/snags", "raiseSnag",
        "Reports a fault found on standing or built work, with its owner and its day")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(Body), """
            {"id": "phone-3.31", "at": "2027-03-08T22:36:00+00:00", "what": "Skirting chipped, left return",
             "why": "It was so before we came", "zone": "window", "owner": "store", "due": "2027-03-12", "safety": false,
             "photos": ["phone-3.p1"]}
            """),
        Replies = [new(201, "The snag is raised, under the next number of the week; a repeated report has the same number",
            typeof(Raised))],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var (id, at) = (json.Id("id"), request.TimeOf(json.Time("at")));
        if (id.Length > 0 && SnagDecisions.IsNumber(id))
            json.AddFault("id", "An id of digits alone would be taken for the number of a snag; give it a letter.");
        var (what, why) = (json.Text("what", SnagNotes.Longest), json.OptionalText("why", SnagNotes.Longest));
        var (zone, display, piece) = (json.OptionalId("zone"), json.OptionalId("display"),
            json.OptionalInt("piece", 1, int.MaxValue));
        if (((string[])["zone", "display", "piece"]).Count(json.Has) != 1)
            json.AddFault("Say where it is: give one of zone, display and piece.");
        if (!json.Has("owner")) json.Required("owner");
        var owner = SnagBody.ReadOwner(json) ?? new SnagOwner(SnagOwnerKind.Store);
        var raised = new SnagRaised(id, 0, zone, display, piece, null, null, owner, json.Date("due"), json.Flag("safety"),
            request.Caller.Person, at.At, PhotoIds.Read(json), at.Clock, json.OptionalId("corrects"));
        return new FloorReport(at.At.ToInstant(), week => week.Raise(raised))
        {
            Texts = SnagNotes.Of(request.Id, id, what, why),
            Reply = week =>
            {
                var number = week.Snags.Numbers[id];
                return Answer.Created($"/weeks/{week.Id}/snags/{number}", new Raised(number));
            },
        };
    }
}
