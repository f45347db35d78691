using Marten;
using SetWeek.Domain;
using SetWeek.Domain.Weeks;
using SetWeek.Scheduling;
using SetWeek.Service.Web;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Plans;

public sealed class ReadPublishedWhy : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan/why/{task}", "readPublishedWhy",
        "Reads what holds a task where the published plan has it, and who else could be on it, by what has happened so far")
    {
        MayUse = WhyAnswer.MayUse,
        Query = [WhyAnswer.Stint],
        Replies = WhyAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var past = await Streams.Week(session, request.Id, request.Cancelled);
        if (past.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), StoreTime.Local(week, request.Now));
        var problem = Scheduling.Problem.Of(input.Week, input.Replan);
        // With the times at which work really began.
        var asReported = published.Plan with { Nights = PlanTimes.NightsOf(problem, problem.Facts!.AsPublished) };
        return await WhyAnswer.Of(request, await session.TitleOf(week, request.Cancelled), input, asReported);
    }
}
