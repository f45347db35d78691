using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

public sealed class ReadWeekFile : IQuery
{
    public static Operation Operation =>
        new("GET", "/weeks/{id}/week-file", "readWeekFile", "Reads the week file that the planner would use now")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Replies = [new(200, "A week file; it contains names and rates", typeof(Week)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var file = WeekFile.Write(PlanningProblem.WeekOf(week, crew));
        return new Answer(200) { Content = file, ContentType = "application/json" }.WithVersion(stream.Version);
    }
}
