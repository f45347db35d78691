using Marten;
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

    public static Operation Operation =>
        StreamScan.Operation("direction", "listDirections", "Lists the directions of the chain", typeof(View));

    public static Task<Answer> Handle(Request request, IQuerySession session) =>
        StreamScan.Page(request, session, "direction", among: null, async id =>
            await Streams.Direction(session, id, request.Cancelled) is { State: { } direction, Version: var version }
                ? new DirectionView(direction.Id, direction.Name, version) : null, directions => new View(directions));
}
