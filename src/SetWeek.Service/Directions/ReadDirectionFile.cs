using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

/// <summary>The document at an address of its own, so that a link in a browser leads to the file.</summary>
public sealed class ReadDirectionFile : IQuery
{
    public static Operation Operation => new("GET", "/directions/{id}/direction.json", "readDirectionFile",
        "Reads the current version of a direction, to be stored as a file")
    {
        MayUse = ReadDirection.Operation.MayUse,
        Replies = [new(200, "The direction, as it is brought in", typeof(Direction)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await Streams.Direction(session, request.Id, request.Cancelled) is { State: { } direction, Version: var version }
            ? Answer.Ok(direction).WithVersion(version) with { FileName = $"{direction.Id}.direction.json" }
            : Refused.Missing("direction", request.Id);
}
