using Marten;
using SetWeek.Domain.Reports;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Kits;

public sealed class UnsettleLine : ICommand
{
    private sealed record Body(string Item, string? Why);

    public static Operation Operation => new("POST", "/weeks/{id}/kits/{kit}/unsettled", "unsettleLine",
        "Takes back that the received quantity of a kit line was accepted")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"item": "canopy", "why": "The wrong line."}"""),
        Replies = [new(204, "The line blocks the work that needs it again, unless its pieces suffice")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read((JsonFields json) => new Body(json.Word("item"), json.OptionalText("why", longest: 2000))).Match(
            body => request.Decide(session, week => week.UnsettleLine(request["kit"], body.Item), body.Why),
            faults => Task.FromResult(Refused.For(faults)));
}
