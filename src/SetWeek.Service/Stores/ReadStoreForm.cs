using System.Globalization;
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
    /// <summary>How many rows of a kind the page has unless the address says how many, and the most.</summary>
    private const int UsualRows = 4, MostRows = 40;

    public static Operation Operation => new("GET", "/new-store", "readStoreForm", "The page with the form that opens a store")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query =
        [
            new("zones", $"How many zones the form has rows for, 1 to {MostRows}; default: {UsualRows}", "6", typeof(int)),
            new("equipment", $"The same for kinds of equipment, 1 to {MostRows}; default: {UsualRows}", "6", typeof(int)),
        ],
        Replies = [Reply.Page("The page; programs send the store to openStore")],
        Refusals = [400, 406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (request.PreferredType("text/html") is null)
            return Refused.With(406, "This is a page, available as text/html. Programs send the store to POST /stores.");
        if (RowsOf(request, "zones") is not { } zones || RowsOf(request, "equipment") is not { } equipment)
            return Refused.With(400, $"Give a whole number of rows from 1 to {MostRows}.", "no-rows");
        var regions = await StreamNames.OfRegions(session, request.Cancelled);
        return await request.Page<NewStorePage, NewStorePage.Offer>(new(request.Caller.Tenant,
            [.. regions.OrderBy(region => region.Value, StringComparer.Ordinal).Select(region => (region.Key, region.Value))],
            request.FormToken() is { } token ? new(token, request.PlanIds.Next(request.SystemTime)) : null)
        {
            Zones = zones, Equipment = equipment, MostRows = MostRows,
        });
    }

    /// <returns>Null if the address does not say a number in the range.</returns>
    private static int? RowsOf(Request request, string name) => request.Query(name) is not { } asked ? UsualRows
        : int.TryParse(asked, NumberStyles.None, CultureInfo.InvariantCulture, out var rows) && rows is >= 1 and <= MostRows
            ? rows : null;
}
