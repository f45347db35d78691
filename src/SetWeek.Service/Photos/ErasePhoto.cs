using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pictures;

namespace SetWeek.Service.Photos;

public sealed class ErasePhoto : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/photos/{photo}", "erasePhoto",
        "Erases a photograph, for example one that shows somebody. What named it stays")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Replies = [new(204, "Its pixels are erased; the same file, sent again under its id, is not stored again")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await PhotoStore.SentHash(session, request.Id, request["photo"], request.Cancelled) is null)
            return Refused.Missing("photo", request["photo"]);
        PhotoStore.Erase(session, request.Id, request["photo"]);
        return Answer.NoContent;
    }
}
