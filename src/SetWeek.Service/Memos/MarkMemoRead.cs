using Marten;
using SetWeek.Domain.Memos;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Memos;

public sealed class MarkMemoRead : ICommand
{
    public static Operation Operation => new("POST", "/weeks/{id}/memos/{memo}/read", "markMemoRead",
        "Records that the lead has read a memo of head office")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Replies = [new(204, "The first reading stands; a repeated request changes nothing")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.LoadAsync<Memo>(request["memo"], request.Cancelled) is not { } memo)
            return Refused.Missing("memo", request["memo"]);
        return week.Read(memo, request.Caller.Person, request.Now).Match(
            events => Answer.NoContent.WithVersion(stream.Append(session, events)), Refused.For);
    }
}
