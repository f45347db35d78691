using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Plans;

public sealed class ReadPublishedWhy : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan/why/{task}", "readPublishedWhy",
        "Explains why the published plan does not start a task earlier, and who else could do it, given what has happened so far")
    {
        MayUse = WhyAnswer.MayUse,
        Query = [WhyAnswer.Stint],
        Replies = WhyAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Published(request, session))
            .Match(plan => WhyAnswer.Of(request, session, plan), Task.FromResult);
}
