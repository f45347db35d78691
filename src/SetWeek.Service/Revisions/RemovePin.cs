using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Revisions;

public sealed class RemovePin : ICommand
{
    public static Operation Operation =>
        new("DELETE", "/weeks/{id}/pins/{pin}", "removePin", "Takes a pin away: later plans need not agree with it")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        IfMatch = true,
        Replies = [new(204, "The week does not have the pin")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        return week.Unpin(await session.CrewOf(week.Id, request.Cancelled), request["pin"]).Match(
            revision => request.Append(session, stream, revision).Match(
                version => Answer.NoContent.WithVersion(version), answer => answer),
            Refused.For);
    }
}
