using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

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

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await LoadedPlan.Requested(request, session, "nothing has a place to ask about"))
            .Match(plan => WhyAnswer.Of(request, plan), Task.FromResult);
}
