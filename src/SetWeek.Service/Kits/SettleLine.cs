using Marten;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Kits;

public sealed class SettleLine : ICommand
{
    private sealed record Body(string Item);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/kits/{kit}/settled", "settleLine",
            "Accepts the received quantity of a kit line, although pieces are missing")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"item": "canopy"}"""),
        Replies = [new(204, "The line no longer blocks the work that needs it")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.Word("item"))).Match(
            body => request.Decide(session, week => week.SettleLine(request["kit"], body.Item)),
            faults => Task.FromResult(Refused.For(faults)));
}
