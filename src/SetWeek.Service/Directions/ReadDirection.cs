using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class ReadDirection : IQuery
{
    public static Operation Operation =>
        new("GET", "/directions/{id}", "readDirection", "Reads the current version of a direction")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Replies = [new(200, "The direction", typeof(Direction)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await Streams.Direction(session, request.Id, request.Cancelled) is { State: { } direction, Version: var version }
            ? Answer.Ok(direction).WithVersion(version)
            : Refused.Missing("direction", request.Id);
}
