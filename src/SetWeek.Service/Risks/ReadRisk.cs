using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Plans;

namespace SetWeek.Service.Risks;

public sealed class ReadRisk : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/risk", "readRisk",
        "Estimates how surely a plan holds, what drives the risk, and what would help")
    {
        MayUse = RiskAnswer.MayUse,
        Query = RiskAnswer.Query,
        Replies = RiskAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Requested(request, session))
            .Match(plan => RiskAnswer.Of(request, plan), Task.FromResult);
}
