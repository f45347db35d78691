using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetZone : ICommand
{
    private sealed record Body(string Name, int? MaxPeople, ZoneCleanDown? CleanDown, int? TradePerDay);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/zones/{zone}", "setZone", "Sets a zone: its room, its clean-down and what it sells in a day")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"name": "Show window", "maxPeople": 2, "cleanDown": {"minutes": 15, "roles": [{"skill": "dressing", "people": 1}]},
             "tradePerDay": 40000}
            """),
        IfMatch = true,
        Replies = [new(204, "The zone is set for this week; the store itself stays as it is")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => WeekReader.Zone(request["zone"], json)).Match(
            zone => request.Edit(session, week => week.With(zone), (wanted, faults) => RevisionAnswers.Faults(faults,
                (RevisionAnswers.PointerOf("/store/zones", wanted.Store.Zones, other => other.Id == zone.Id), ""))),
            faults => Task.FromResult(Refused.For(faults)));
}
