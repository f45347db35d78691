using Marten;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Facts;

namespace SetWeek.Service.Facts;

public sealed class ReadFactItem : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/facts/{kind}/{item}", "readFactItem",
        "The page with the forms for one person, night, kit, zone, task or display")
    {
        MayUse = FactPages.MayUse,
        Replies = [Reply.Page("The page")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var item = request["item"];
        return await (await FactPages.Read(request, session)).Match(week => request["kind"] switch
        {
            "crew" when !week.Forms.IsLead => FactPages.LeadOnly(request),
            "crew" => Of("person", week.Forms.State.Crew.Contains(item) ? week.Forms.Crew.Find(item) : null,
                member => request.Page<PersonFactsPage, PersonFactsPage.Person>(new(week.Forms, member), FactPages.Leads)),
            "nights" => Of("night", week.Forms.State.Week.Nights.FirstOrDefault(night => night.Id == item),
                night => request.Page<NightFactsPage, NightFactsPage.OneNight>(new(week.Forms, night))),
            "kits" => Of("kit", week.Forms.State.Week.Kits.FirstOrDefault(kit => kit.Id == item),
                kit => request.Page<KitFactsPage, KitFactsPage.OneKit>(new(week.Forms, kit))),
            "zones" => Of("zone", week.Forms.State.Week.Store.Zones.FirstOrDefault(zone => zone.Id == item),
                zone => request.Page<ZoneFactsPage, ZoneFactsPage.OneZone>(new(week.Forms, zone))),
            "tasks" => Of("task", week.Forms.State.Week.Tasks.FirstOrDefault(task => task.Id == item),
                task => request.Page<TaskFactsPage, TaskFactsPage.OneTask>(new(week.Forms, task))),
            "displays" => Of("display", week.Forms.State.Week.Displays.FirstOrDefault(display => display.Id == item),
                display => request.Page<DisplayFactsPage, DisplayFactsPage.OneDisplay>(new(week.Forms, display))),
            var kind => Task.FromResult(Refused.Missing("kind of fact", kind)),
        }, Task.FromResult);

        Task<Answer> Of<T>(string kind, T? found, Func<T, Task<Answer>> show) where T : class =>
            found is null ? Task.FromResult(Refused.Missing(kind, item)) : show(found);
    }
}
