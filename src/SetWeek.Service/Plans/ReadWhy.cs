using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Plans;

public sealed class ReadWhy : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/why/{task}", "readWhy",
        "Explains why a plan does not start a task earlier, and who else could do it")
    {
        MayUse = WhyAnswer.MayUse,
        Query = [WhyAnswer.Stint],
        Replies = WhyAnswer.Replies,
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Requested(request, session))
            .Match(plan => WhyAnswer.Of(request, session, plan), Task.FromResult);
}
