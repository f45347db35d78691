using Marten;
using SetWeek.Domain.HandOvers;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.HandOvers;

public sealed class WithdrawAcceptance : ICommand
{
    private sealed record Body(string Why);

    public static Operation Operation => new("POST", "/weeks/{id}/hand-over/withdrawn", "withdrawAcceptance",
        "Withdraws the hand-over: the store no longer accepts the week as it is")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"why": "The canopy was taken down for the sprinkler test."}"""),
        Replies = [new(204, "The hand-over counts no longer")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.Text("why", longest: 2000))).Match(
            body => request.Decide(session, week => week.WithdrawHandOver(request.Caller.Person), body.Why),
            faults => Task.FromResult(Refused.For(faults)));
}
