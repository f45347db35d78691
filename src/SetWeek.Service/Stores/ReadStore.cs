using Marten;
using SetWeek.Domain.Stores;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Stores;

public sealed class ReadStore : IQuery
{
    public static Operation Operation => new("GET", "/stores/{id}", "readStore", "Reads a store")
    {
        MayUse = Permission.Everybody(AccessScope.Store),
        Replies = [new(200, "The store", typeof(StoreProfile)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await Streams.Store(session, request.Id, request.Cancelled) is { State: { } store, Version: var version }
            ? Answer.Ok(store).WithVersion(version)
            : Refused.Missing("store", request.Id);
}
