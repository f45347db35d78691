using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Service.Access;
using SetWeek.Service.Exports;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class ReadPublishedPlan : IQuery
{
    public static Operation Operation =>
        new("GET", "/weeks/{id}/plan", "readPublishedPlan", "Reads the published plan")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query = [PlanAnswer.Night],
        Replies =
        [
            new(200, "The plan, as a plan file, as a page (Accept: text/html) or as a table (Accept: text/csv)",
                typeof(Model.Plans.Plan)),
            Reply.Page("The plan as a page"),
            Reply.Table("The plan as a table"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } state) return Refused.Missing("week", request.Id);
        var format = request.PreferredType("application/json", "text/html", "text/csv");
        if (state.Published is not { } published)
            return format == "text/html" ? await PlanPages.Empty(request, session, stream)
                : Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var input = PlanningProblem.Of(state, await session.CrewOf(state.Id, request.Cancelled),
            StoreTime.Local(state, request.Now));
        // Slack depends on the work reported since the plan was published.
        var (week, plan) =
            (input.Week, published.Plan with { Tight = TightRules.Of(Problem.Of(input.Week, input.Replan), published.Plan) });
        return format switch
        {
            "application/json" => new Answer(200) { Content = PlanFile.Write(plan), ContentType = "application/json" },
            "text/html" => await PlanPages.Published(request, session, stream, input, plan),
            "text/csv" => Answer.Table(WeekCsv.Of(week, plan)),
            _ => Refused.With(406, "A plan is available as application/json, text/html or text/csv."),
        };
    }
}
