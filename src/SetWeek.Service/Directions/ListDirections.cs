using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class ListDirections : IQuery
{
    public sealed record View(IReadOnlyList<DirectionView> Directions);

    public sealed record DirectionView(string Id, string Name, long Version);

    public static Operation Operation => new("GET", "/directions", "listDirections", "Lists the directions of the chain")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Query = ListPage.Query,
        Replies = [new(200, "The directions in the order of their ids; follow the Link with rel=next", typeof(View))
        {
            HasLink = true,
        }],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var ids = await StreamList.Ids(session, "direction", null, page.After, page.Limit + 1, request.Cancelled);
        var directions = new List<DirectionView>();
        foreach (var id in ids.Take(page.Limit))
            if (await Streams.Direction(session, id, request.Cancelled) is { State: { } direction, Version: var version })
                directions.Add(new DirectionView(direction.Id, direction.Name, version));
        return page.Answer("/directions", new View(directions), ids.Count > page.Limit ? ids[page.Limit - 1] : null);
    }, Task.FromResult);
}
