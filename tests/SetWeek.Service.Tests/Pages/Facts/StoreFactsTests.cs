using System.Net;
using SetWeek.Service.Tests.Access;
using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>The forms of what the store has: zones, their clean-downs and kinds of equipment.</summary>
[Collection(ServiceCollection.Name)]
public sealed class StoreFactsTests(RunningService service)
{
    [Fact]
    public async Task A_zone_its_clean_down_and_a_kind_of_equipment_are_added_and_a_task_uses_them()
    {
        var (week, lead) = await Opened(service);
        (string, string)[] cleanDown = [("cleanDown.minutes:number", "15"), ("cleanDown.roles[0].skill:row", "dressing"),
            ("cleanDown.roles[0].people:number", "2")];
        await lead.PressButton(await Page(lead, $"{FactsAddress}/zones"), "Add this zone",
            [("name", "Stair foot"), ("maxPeople:number", "2")]);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/zones/zone-1"), "Keep these for this week", cleanDown);
        var named = Assert.Single(PageForm.With(await Page(lead, $"{FactsAddress}/store"), "Go on to how many there are").Names);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/store?{named}=Step%20ladder%20(2%20m)"), "Add step ladder 2 m",
            ("count:number", "3"));
        var kept = await lead.PressButton(await Page(lead, $"{FactsAddress}/tasks/wall.paint"), "Keep this task",
            ("zone", "zone-1"), ("modes[0].equipment[0].id:row", "step-ladder-2-m"), ("modes[0].equipment[0].count:number", "2"));
        Assert.True(kept.Status == 303, kept.Text);
        var file = (await week.Lead.Get($"{Address}/week-file")).Json;
        var zone = file["store"]!["zones"]!.AsArray().Single(one => (string?)one!["id"] == "zone-1")!;
        Assert.Equal(("Stair foot", 15, 2), ((string?)zone["name"], (int)zone["cleanDown"]!["minutes"]!,
            (int)zone["cleanDown"]!["roles"]![0]!["people"]!));
        Assert.Equal(3, (int)file["store"]!["equipment"]!.AsArray().Single(one => (string?)one!["id"] == "step-ladder-2-m")!["count"]!);
        Assert.Equal(("zone-1", 2), ((string?)At(file, "/tasks/0/zone"), (int)At(file, "/tasks/0/modes/0/equipment/0/count")!));

        // Without minutes and people it has no clean-down any more.
        await lead.PressButton(await Page(lead, $"{FactsAddress}/zones/zone-1"), "Keep these for this week",
            ("cleanDown.minutes:number", ""), ("cleanDown.roles[0].skill:row", ""));
        Assert.DoesNotContain("\"cleanDown\"", (await week.Lead.Get($"{Address}/week-file")).Text);
    }

    [Theory]
    [InlineData("Step ladder", "There is a step ladder already: change its number above.")]
    [InlineData("Οικία", "Write the name in letters from a to z.")]
    public async Task A_kind_of_equipment_that_cannot_be_added_is_answered_with_the_reason(string name, string reason)
    {
        var (_, lead) = await Opened(service);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/store?equipment=step-ladder"), "Add step ladder");
        var before = await Page(lead, $"{FactsAddress}/store");
        Assert.DoesNotContain("id=\"named-fault\"", before);
        var answer = await lead.PressButton(before, "Go on to how many there are", ("equipment", name));
        var page = WebUtility.HtmlDecode(answer.Text);
        Assert.Contains($"id=\"named-fault\">{reason}</p>", page);
        Assert.Matches($"name=\"equipment\" type=\"text\" value=\"{name}\"[^>]* aria-invalid=\"true\"[^>]* aria-describedby=\"named-fault named-hint\"",
            page);
    }

    [Theory]
    [InlineData("Step ladder (2 m)", "step-ladder-2-m")]
    [InlineData("Échelle à marches", "echelle-a-marches")]
    [InlineData("Züricher Bock", "zuricher-bock")]
    [InlineData("梯子", "")]
    public void The_id_of_a_thing_is_made_of_its_name(string name, string id) =>
        Assert.Equal(id, Service.Pages.Facts.WeekForms.IdOf(name));
}
