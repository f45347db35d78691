using Marten;
using SetWeek.Domain;
using SetWeek.Scheduling.Files;
using SetWeek.Service.Access;
using SetWeek.Service.Pages;
using SetWeek.Service.Web;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Plans;

public sealed class ReadPublishedPlan : IQuery
{
    public static Operation Operation =>
        new("GET", "/weeks/{id}/plan", "readPublishedPlan", "Reads the plan that the store works by")
    {
        MayUse = Who.Everybody(About.Week),
        Replies = [new(200, "The plan, as a plan file, as a page (Accept: text/html) or as a table (Accept: text/csv)",
            typeof(Scheduling.Plan))],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var past = await Streams.Week(session, request.Id, request.Cancelled);
        if (past.State is not { } state) return Refused.Missing("week", request.Id);
        if (state.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var title = await session.TitleOf(state, request.Cancelled);
        var week = PlanningProblem.WeekOf(state, await session.CrewOf(state.Id, request.Cancelled));
        return request.Prefers("application/json", "text/html", "text/csv") switch
        {
            "application/json" => new Answer(200) { Content = PlanFile.Write(published.Plan), ContentType = "application/json" },
            "text/html" => Answer.Of(WeekPage.Of(title, week, published.Plan, "published",
                address: WhyAnswer.Asked(request, $"/weeks/{state.Id}/plan")), WeekPage.ContentType),
            "text/csv" => Answer.Of(WeekCsv.Of(week, published.Plan), WeekCsv.ContentType),
            _ => Refused.With(406, "A plan is answered as application/json, text/html or text/csv."),
        };
    }
}
