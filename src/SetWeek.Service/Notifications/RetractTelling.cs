using Marten;
using SetWeek.Domain.Notifications;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

public sealed class RetractTelling : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/told/{person}", "retractTelling",
        "Takes back that a person was told what the published plan changes for them")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Replies = [new(204, "The person counts as not told; the history shows what was taken back")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return week.RetractTelling(crew, null, request["person"], request.Caller.Person).Match(
            retracted => Answer.NoContent.WithVersion(stream.Append(session, retracted)), Refused.For);
    }
}
