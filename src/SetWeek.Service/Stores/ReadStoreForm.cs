using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Stores;

namespace SetWeek.Service.Stores;

public sealed class ReadStoreForm : IQuery
{
    public static Operation Operation => new("GET", "/new-store", "readStoreForm", "The page with the form that opens a store")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Replies = [Reply.Page("The page; programs send the store to openStore")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (request.PreferredType("text/html") is null)
            return Refused.With(406, "This is a page, available as text/html. Programs send the store to POST /stores.");
        var regions = await StreamNames.OfRegions(session, request.Cancelled);
        return await request.Page<NewStorePage, NewStorePage.Offer>(new(request.Caller.Tenant,
            [.. regions.OrderBy(region => region.Value, StringComparer.Ordinal).Select(region => (region.Key, region.Value))],
            request.FormToken() is { } token ? new(token, request.PlanIds.Next(request.SystemTime)) : null));
    }
}
