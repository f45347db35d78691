using Marten;
using SetWeek.Domain.Plans;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

/// <summary>Ends the search for a plan before its limit, with the best plan found so far.</summary>
public sealed class StopPlan : ICommand
{
    public static Operation Operation => new("POST", "/weeks/{id}/plans/{plan}/stop", "stopPlan",
        "Ends the search for a plan with the best plan found so far")
    {
        MayUse = RequestPlan.Operation.MayUse,
        Replies =
        [
            new(202, "The search ends, and the plan is ready once the chance that it holds is measured, see Location",
                typeof(RequestPlan.Requested)),
        ],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        if (candidate.Settled)
            return Refused.With(409, "The search for this plan has ended. Read the plan, or ask for another one.",
                "search-ended");
        if (!await session.EndWithBest(candidate.Id, request.Cancelled))
            return Refused.With(409, "No plan is found yet, so there is none to end with. The search goes on.", "no-plan-yet");
        return Answer.Accepted(PlanAnswer.AddressOf(request.Id, candidate.Id),
            new RequestPlan.Requested(candidate.Id, CandidateState.Solving));
    }
}
