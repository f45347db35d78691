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
        Query = [PlanAnswer.Night],
        Replies = PlanAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var (week, plan) = await Streams.WeekAndPlan(session, request.Id, request["plan"], request.Cancelled);
        return week.State is null ? Refused.Missing("week", request.Id)
            : plan is null ? Refused.Missing("plan", request["plan"])
            : await PlanAnswer.Of(request, session, week, plan);
    }
}
