using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Printing.Drawing;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Printing;

public sealed class ReadWallChartPdf : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plan/wall-chart.pdf", "readWallChartPdf",
        "Prints the published plan as a wall chart, A3 landscape")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            Reply.File("The week, a band for each night and a lane for each person, without pay, on as many sides as it needs",
                SheetPdf.ContentType) with { HasETag = true },
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet. Publish one first.", "nothing-published");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled),
            StoreTime.Local(week, request.Now));
        return new Answer(200)
        {
            Content = WallPdf.Of(await session.TitleOf(week, request.Cancelled), input.Week, published.Plan, request.Now),
            ContentType = SheetPdf.ContentType,
            // Weak: the time of printing differs, and nothing else (RFC 9110, section 8.8.1).
            ETag = $"W/{new Answer(200).WithVersion(stream.Version).ETag}",
        };
    }
}
