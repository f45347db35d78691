using Marten;
using SetWeek.Domain.Memos;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Memos;

public sealed class WithdrawMemo : ICommand
{
    public static Operation Operation => new("DELETE", "/memos/{id}", "withdrawMemo",
        "Takes a memo back; weeks whose lead has read it show that it is taken back")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Replies = [new(204, "The memo is taken back; a repeated request changes nothing")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await session.LoadAsync<Memo>(request.Id, request.Cancelled) is not { } memo
            || !(memo.Stores ?? [Caller.AnyStore]).All(request.Caller.MayAccess)) return Refused.Missing("memo", request.Id);
        if (memo.WithdrawnAt is null) session.Store(memo with { WithdrawnAt = request.Now });
        return Answer.NoContent;
    }
}
