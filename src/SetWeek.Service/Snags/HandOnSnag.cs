using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Snags;

public sealed class HandOnSnag : IReport
{
    private sealed record Body(
        string Id, OffsetDateTime At, SnagOwnerKind? Owner, string? Person, string? Trade, LocalDate? Due, string? Note,
        IReadOnlyList<string>? Photos, string? Corrects);

    public static Operation Operation => new("POST", "/weeks/{id}/snags/{snag}/handed-on", "handOnSnag",
        "Gives a snag another owner, another day or both")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """
            {"id": "phone-3.34", "at": "2027-03-08T23:50:00+00:00", "owner": "trade", "trade": "joiner", "due": "2027-03-16"}
            """),
        Replies = [SnagBody.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        if (!json.Has("owner") && !json.Has("due")) json.AddFault("Give the new owner, the new day or both.");
        var (owner, due) = (SnagBody.ReadOwner(json), json.OptionalDate("due"));
        return SnagBody.Report(json, request, (body, snag, time) => new SnagHandedOn(
            body.Id, snag, owner, due, request.Caller.Person, time.At, body.Photos, time.Clock, body.Corrects));
    }
}
