using Marten;
using SetWeek.Domain.Work;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Work;

public sealed class StartWork : ICommand
{
    public static Operation Operation => new("POST", "/weeks/{id}/work/started", "startWork", "Reports that work has started")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(WorkBody), WorkBody.Example),
        Replies = [new(204, "The report is recorded; a repeated report changes nothing")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => request.Read(WorkBody.Read).Match(
        body => request.TakeReport(session, body.At, week => week.TakeReport(body.Started())),
        faults => Task.FromResult(Refused.For(faults)));
}
