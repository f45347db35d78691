using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Plans;

public sealed class ReadRisk : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/risk", "readRisk",
        "Reads how likely a plan is to hold, what drives that, and what would help")
    {
        MayUse = RiskAnswer.MayUse,
        Query = RiskAnswer.Query,
        Replies = RiskAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Requested(request, session, "nothing can go right or wrong"))
            .Match(plan => RiskAnswer.Of(request, plan), Task.FromResult);
}
