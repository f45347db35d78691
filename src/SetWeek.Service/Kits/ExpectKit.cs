using Marten;
using NodaTime;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Kits;

public sealed class ExpectKit : ICommand
{
    private sealed record Body(LocalDateTime Eta);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/kits/{kit}/expected", "expectKit",
            "Sets when a kit is expected or, once it has arrived, when the rest of it will be counted")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"eta": "2027-03-09T12:00"}"""),
        Replies = [new(204, "The expected time is recorded")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.LocalTime("eta"))).Match(
            body => request.Decide(session, week => week.ExpectKit(request["kit"], body.Eta)),
            faults => Task.FromResult(Refused.For(faults)));
}
