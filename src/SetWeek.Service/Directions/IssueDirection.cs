using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Directions;

public sealed class IssueDirection : ICommand
{
    public static Operation Operation => new("POST", "/directions", "issueDirection", "Issues a direction to the chain")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(Direction), DirectionBody.Example) { MayOmit = DirectionBody.MayOmit, IsDocument = true },
        Replies = [new(201, "The direction is issued", typeof(Direction))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(DirectionBody.Read).TryPickT1(out var faults, out var direction)) return Refused.For(faults);
        if (DirectionFaults.Of(direction) is { Count: > 0 } invalid) return Refused.For(new FaultReport(invalid), 422);
        var stream = await Streams.Direction(session, direction.Id, request.Cancelled);
        return Direction.Issue(stream.State, direction).Match(
            issued => Answer.Created($"/directions/{direction.Id}", direction).WithVersion(stream.Append(session, issued)),
            Refused.For);
    }
}
