using System.Text.Json.Serialization;
using Marten;
using NodaTime;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Kits;

public sealed class DelayKit : ICommand
{
    private sealed record Body([property: JsonRequired] LocalDateTime? Eta, string? Why);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/kits/{kit}/delayed", "delayKit", "Reports that a kit is delayed")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"eta": "2027-03-10T12:00", "why": "Held at the depot."}"""),
        Replies = [new(204, "The delay is recorded; without an eta, the new arrival time is unknown")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.NullableLocalTime("eta"), json.OptionalText("why", longest: 2000))).Match(
            body => request.Decide(session, week => week.DelayKit(request["kit"], body.Eta), body.Why),
            faults => Task.FromResult(Refused.For(faults)));
}
