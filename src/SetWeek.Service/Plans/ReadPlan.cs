using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class ReadPlan : IQuery
{
    public static Operation Operation =>
        new("GET", "/weeks/{id}/plans/{plan}", "readPlan", "Reads a requested plan, also while the search for it runs")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies = PlanAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is null) return Refused.Missing("week", request.Id);
        return await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is { } candidate
            ? await PlanAnswer.Of(request, session, stream, candidate)
            : Refused.Missing("plan", request["plan"]);
    }
}
