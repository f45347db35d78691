using Marten;
using SetWeek.Domain;
using SetWeek.Scheduling;
using SetWeek.Service.Web;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Plans;

public sealed class ReadWhy : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/why/{task}", "readWhy",
        "Reads what holds a task where a plan has it, and who else could be on it")
    {
        MayUse = WhyAnswer.MayUse,
        Query = [WhyAnswer.Stint],
        Replies = WhyAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var past = await Streams.Week(session, request.Id, request.Cancelled);
        if (past.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.Candidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        if (candidate.Plan is not { Nights.Count: > 0 } plan)
            return Refused.With(409, "There is no plan here yet, or none at all: nothing has a place to ask about.", "no-plan-yet");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), candidate.Now);
        // Facts that came later belong to another plan.
        var replan = candidate.Replaces is not { } published ? null
            : input.Hash() == candidate.InputHash ? input.Replan : new Replan(published, candidate.Now, []);
        return await WhyAnswer.Of(request, await session.TitleOf(week, request.Cancelled), input with { Replan = replan }, plan);
    }
}
