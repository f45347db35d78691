using Marten;
using SetWeek.Domain.Stores;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Stores;

public sealed class OpenStore : ICommand
{
    public static Operation Operation => new("POST", "/stores", "openStore", "Adds a store to the chain")
    {
        MayUse = new Permission(AccessScope.StoreInBody, Role.HeadOffice),
        Body = new(typeof(StoreProfile), StoreBody.Example) { MayOmit = ["equipment", "features"], IsDocument = true },
        StoreField = "id",
        Replies = [new(201, "The store is open", typeof(StoreProfile))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(StoreBody.Read).TryPickT1(out var faults, out var store)) return Refused.For(faults);
        if (!request.Caller.MayAccess(store.Id)) return Refused.OtherStore(store.Id);
        var stream = await Streams.Store(session, store.Id, request.Cancelled);
        return StoreProfile.Open(stream.State, store).Match(
            opened => Answer.Created($"/stores/{store.Id}", store).WithVersion(stream.Append(session, opened)),
            Refused.For);
    }
}
