using Marten;
using SetWeek.Domain.Work;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Work;

public sealed class LiftStop : ICommand
{
    private sealed record Body(string? Why);

    public static Operation Operation => new("POST", "/weeks/{id}/stops/{stop}/lifted", "liftStop",
        "Lifts a stop: the lead who asks has found it safe again")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"why": "The pane is secured and was checked."}""", IsOptional: true),
        Replies = [new(204, "Work may start there again")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read((JsonFields json) => new Body(json.OptionalText("why", longest: 2000))).Match(
            body => request.Decide(session, week => week.Lift(request["stop"], request.Caller.Person), body.Why),
            faults => Task.FromResult(Refused.For(faults)));
}
