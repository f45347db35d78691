using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Exports;

public sealed class ReadWorkbook : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan.xlsx", "readWorkbook",
        "Reads the published plan as a workbook with the sheets plan, shifts and hours")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies = [Reply.File("The workbook. It shows no pay", WeekWorkbook.ContentType)],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await PublishedWeek.Read(request, session)).Match(
            async published => new Answer(200)
            {
                Content = await WeekWorkbook.Of(published.Week, published.Plan, published.Hours, request.Cancelled),
                ContentType = WeekWorkbook.ContentType,
                FileName = $"{request.Id}.xlsx",
            },
            Task.FromResult);
}
