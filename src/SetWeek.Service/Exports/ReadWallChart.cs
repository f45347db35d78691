using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Exports;

public sealed class ReadWallChart : IQuery
{
    public static Operation Operation =>
        new("GET", "/weeks/{id}/plan/wall-chart", "readWallChart", "Draws the published plan as a wall chart, A3 landscape")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200, "The whole week as SVG, a band for each night and a lane for each person, without pay", typeof(string),
                WallChart.ContentType),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } state) return Refused.Missing("week", request.Id);
        if (state.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet. Publish one first.", "nothing-published");
        if (request.PreferredType(WallChart.ContentType) is null)
            return Refused.With(406, $"A wall chart is available as {WallChart.ContentType}.");
        var input = PlanningProblem.Of(state, await session.CrewOf(state.Id, request.Cancelled),
            StoreTime.Local(state, request.Now));
        return Answer.Text(WallChart.Of(await session.TitleOf(state, request.Cancelled), input.Week, published.Plan),
            WallChart.ContentType);
    }
}
