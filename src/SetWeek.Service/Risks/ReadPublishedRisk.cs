using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Plans;

namespace SetWeek.Service.Risks;

public sealed class ReadPublishedRisk : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan/risk", "readPublishedRisk",
        "Estimates how surely the published plan holds, given what has happened so far")
    {
        MayUse = RiskAnswer.MayUse,
        Query = RiskAnswer.Query,
        Replies = RiskAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Published(request, session))
            .Match(plan => RiskAnswer.Of(request, plan), Task.FromResult);
}
