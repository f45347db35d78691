using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

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

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Published(request, session))
            .Match(plan => WhyAnswer.Of(request, plan), Task.FromResult);
}
