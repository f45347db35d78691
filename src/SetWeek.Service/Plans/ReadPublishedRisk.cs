using Marten;
using SetWeek.Domain;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Web;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Plans;

public sealed class ReadPublishedRisk : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan/risk", "readPublishedRisk",
        "Reads how likely the published plan is to hold from now on, by what has happened so far")
    {
        MayUse = RiskAnswer.MayUse,
        Query = RiskAnswer.Query,
        Replies = RiskAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var past = await Streams.Week(session, request.Id, request.Cancelled);
        if (past.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is null) return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), StoreTime.Local(week, request.Now));
        var problem = Scheduling.Problem.Of(input.Week, input.Replan);
        return await RiskAnswer.Of(request, await session.TitleOf(week, request.Cancelled), problem, problem.Facts!.AsPublished);
    }
}
