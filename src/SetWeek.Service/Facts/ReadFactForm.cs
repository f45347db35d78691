using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Facts;

namespace SetWeek.Service.Facts;

public sealed class ReadFactForm : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/facts/{kind}", "readFactForm",
        "The page with the form for a new person, night, task, zone or display, for the rules, the goals, the store, or what is "
            + "held in place")
    {
        MayUse = FactPages.MayUse,
        Query = [new(StoreFactsPage.Parts.Named, "On the page of the store: what a kind of equipment is called that is added",
            "Drill")],
        Replies = [Reply.Page("The page")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await FactPages.Read(request, session)).Match(week => request["kind"] switch
        {
            "crew" when week.Forms.IsLead =>
                request.Page<PersonFactsPage, PersonFactsPage.Person>(new(week.Forms, null), FactPages.Leads),
            "crew" => FactPages.LeadOnly(request),
            "nights" => request.Page<NightFactsPage, NightFactsPage.OneNight>(new(week.Forms, null)),
            "tasks" => request.Page<TaskFactsPage, TaskFactsPage.OneTask>(new(week.Forms, null)),
            "displays" => request.Page<DisplayFactsPage, DisplayFactsPage.OneDisplay>(new(week.Forms, null)),
            "zones" => request.Page<ZoneFactsPage, ZoneFactsPage.OneZone>(new(week.Forms, null)),
            "store" => request.Page<StoreFactsPage, StoreFactsPage.Parts>(
                StoreFactsPage.Parts.Of(week.Forms, request.Query(StoreFactsPage.Parts.Named))),
            "rules" => request.Page<RuleFactsPage, WeekForms>(week.Forms),
            "goals" => request.Page<GoalFactsPage, WeekForms>(week.Forms),
            "pins" => request.Page<PinFactsPage, WeekForms>(week.Forms),
            var kind => Task.FromResult(Refused.Missing("kind of fact", kind)),
        }, Task.FromResult);
}
