using Marten;
using SetWeek.Service.Facts;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Trials;

namespace SetWeek.Service.Trials;

public sealed class ReadCertainty : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/certainty", "readCertainty",
        "The page that asks what certainty costs; nothing is stored")
    {
        MayUse = FactPages.MayUse,
        Replies = [Reply.Page("The page; programs use the POST of this address")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await FactPages.Read(request, session)).Match(
            loaded => request.Page<CertaintyPage, CertaintyPage.Prices>(new(loaded.Forms, null)), Task.FromResult);
}
