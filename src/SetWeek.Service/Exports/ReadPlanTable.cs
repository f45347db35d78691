using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Exports;

/// <summary>The table at an address of its own, so that a link in a browser leads to the file.</summary>
public sealed class ReadPlanTable : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan.csv", "readPlanTable",
        "Reads the published plan as a table, to be stored as a file")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies = [Reply.Table("The table. It shows no pay")],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        (await PublishedWeek.Read(request, session)).Match(
            published => Answer.Table(WeekCsv.Of(published.Week, published.Plan)) with { FileName = $"{request.Id}.plan.csv" },
            refused => refused);
}
