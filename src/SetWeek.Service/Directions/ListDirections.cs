using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Directions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class ListDirections : IQuery
{
    public sealed record View(IReadOnlyList<DirectionView> Directions);

    public sealed record DirectionView(string Id, string Name, long Version);

    private static Operation List { get; } =
        StreamScan.Operation("direction", "listDirections", "Lists the directions of the chain", typeof(View));

    public static Operation Operation => List with { Replies = [.. List.Replies, Reply.Page("The same as a page")] };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var listed = new View([]);
        var answer = await StreamScan.Page(request, session, "direction", among: null, async id =>
            await Streams.Direction(session, id, request.Cancelled) is { State: { } direction, Version: var version }
                ? new DirectionView(direction.Id, direction.Name, version) : null, directions => listed = new View(directions));
        if (answer.IsRefusal || !request.WantsPage) return answer;
        var page = await request.Page<DirectionsPage, DirectionsPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role, [.. listed.Directions.Select(direction =>
                new DirectionsPage.Listed(direction.Id, direction.Name, direction.Version))],
            answer.Link is { } link ? link[1..link.IndexOf('>', StringComparison.Ordinal)] : null)
        {
            Import = DirectionBody.FormFor(request),
        });
        return page with { Link = answer.Link };
    }
}
