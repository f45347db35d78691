using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class ReadChanges : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/changes", "readChanges",
        "Reads the changes of a re-plan: moved work, people to tell, cost")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies = [new(200, "The changes against the plan that was published when the re-plan was computed",
            typeof(ChangesView))],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), candidate.Now);
        return ChangesView.Of(candidate, input) is { } changes
            ? Answer.Ok(changes)
            : Refused.With(409, "This is not a re-plan, or it has no plan yet, so it has no changes.", "no-changes");
    }
}
