using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>A lead puts in every fact and decision by a form, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class FactPagesTests(RunningService service)
{
    private const string Facts = $"{Address}/facts";

    /// <summary>The page, the button, what is typed, and what the week then says.</summary>
    public static TheoryData<string, string, (string, string)[], string, string> Decisions => new()
    {
        { "/crew/p3", "Record the absence", [("night", "tuesday"), ("why", "A cold.")], "/absences/0/night", "tuesday" },
        { "/kits/forms", "It is late", [("eta", "2027-03-10T12:00"), ("why", "Snow.")], "/kits/0/eta", "2027-03-10T12:00" },
        { "/kits/forms", "It is expected then", [("eta", "2027-03-08T10:00")], "/kits/0/eta", "2027-03-08T10:00" },
        { "/nights/tuesday", "Keep these times", [("closes", "2027-03-10T01:00")], "/nights/1/closes", "2027-03-10T01:00" },
        { "/nights/tuesday", "Keep these times",
            [("bans[0].trait:row", "noisy"), ("bans[0].from", "2027-03-09T22:00"), ("bans[0].to", "2027-03-10T00:00")],
            "/nights/1/bans/0/trait", "noisy" },
        { "/nights", "Add this night", [("opens", "2027-03-11T20:00"), ("closes", "2027-03-11T23:00")], "/nights/3/opens", "2027-03-11T20:00" },
        { "", "Move the launch", [("launch", "2027-03-12T10:00")], "/launch", "2027-03-12T10:00" },
        { "/displays/cycle.panel", "Later plans follow this", [("choice", "leaveOut")], "/displays/1/choice", "leaveOut" },
        { "/displays/cycle.panel", "Keep this display", [("name", "Flat cycle"), ("commitment", "want"), ("value:number", "30")],
            "/displays/1/name", "Flat cycle" },
        { "/displays", "Add this display", [("name", "Sound of rain"), ("value:number", "5")], "/displays/2/name", "Sound of rain" },
        { "/tasks/wall.paint", "Keep this task", [("name", "Paint all of the wall")], "/tasks/0/name", "Paint all of the wall" },
        { "/tasks", "Add this task", [("name", "Wash the window"), ("modes[0].minutes:number", "20"),
            ("modes[0].roles[0].skill:row", "dressing"), ("modes[0].roles[0].people:number", "1")], "/tasks/3/name", "Wash the window" },
        { "/pins", "Hold this shift", [("person", "p2"), ("night", "monday"), ("off:boolean", "true")], "/pins/0/person", "p2" },
        { "/pins", "Hold this work", [("task", "wall.paint"), ("night", "tuesday")], "/pins/0/night", "tuesday" },
    };

    [Theory]
    [MemberData(nameof(Decisions))]
    public async Task A_form_is_accepted_and_the_week_is_so(
        string page, string button, (string, string)[] typed, string pointer, string expected)
    {
        var (week, lead) = await Opened();
        var answer = await lead.PressButton(await Page(lead, Facts + page), button, typed);
        Assert.True(answer.Status == 303, answer.Text);
        Assert.Equal(expected, (string?)At(await week.Week(), pointer));
        // Where the form leads, what was put in is the first of the latest.
        Assert.StartsWith(Facts, answer.Location!);
        Assert.Contains("Put in last", await Page(lead, Facts));
    }

    /// <summary>The same, as the planner reads it: particulars, rules and goals are not in the week that everybody reads.</summary>
    [Theory]
    [InlineData("/crew/p3", "Keep these particulars", "name", "Cleo Strand-Marsh", "/crew/2/name", "Cleo Strand-Marsh")]
    [InlineData("/crew/p3", "Keep these particulars", "skills.painting:number", "1", "/crew/2/skills/painting", "1")]
    [InlineData("/crew/p3", "Keep these hours", "available[1].night:row", "", "/crew/2/available/1/night", "wednesday")]
    [InlineData("/crew/p3", "Keep these times", "commitments[0].from:row", "2027-03-08T12:00", "/crew/2/commitments/0/from", "2027-03-08T12:00")]
    [InlineData("/crew", "Add to the crew", "name", "Dara Quill", "/crew/3/name", "Dara Quill")]
    [InlineData("/rules", "Keep these rules", "minRestMinutes:number", "600", "/rules/minRestMinutes", "600")]
    [InlineData("/rules", "Keep these rules", "minPeople:number", "", "/rules/minPeople", null)]
    [InlineData("/goals", "Keep these goals", "hold.chance:number", "90", "/hold/chance", "90")]
    [InlineData("/goals", "Keep these goals", "goals[1].goal:row", "nights", "/goals/1", "nights")]
    [InlineData("/zones/window", "Keep these for this week", "maxPeople:number", "3", "/store/zones/0/maxPeople", "3")]
    [InlineData("/tasks/wall.paint", "Keep this task", "modes[0].minutes:number", "90", "/tasks/0/modes/0/minutes", "90")]
    [InlineData("/tasks/wall.forms", "Keep this task", "after[0].dryMinutes:number", "300", "/tasks/1/after/0/dryMinutes", "300")]
    [InlineData("/tasks/wall.forms", "Keep this task", "after[0].task:row", "", "/tasks/1/after/0/task", null)]
    [InlineData("/tasks/wall.forms", "Keep this task", "after[1].task:row", "cycle.panel.fix", "/tasks/1/after/1/task", "cycle.panel.fix")]
    [InlineData("/tasks/wall.forms", "Keep this task", "needs[0].item", "form", "/tasks/1/needs/0/item", "form")]
    [InlineData("/tasks/wall.forms", "Keep this task", "needs[0].kit:row", "", "/tasks/1/needs/0/kit", null)]
    [InlineData("/tasks/wall.paint", "Keep this task", "needs[0].kit:row", "forms", "/tasks/0/needs/0/kit", "forms")]
    [InlineData("/tasks/wall.forms", "Keep this task", "last:boolean", "true", "/tasks/1/last", "true")]
    public async Task The_planner_reads_what_was_put_in(
        string page, string button, string field, string typed, string pointer, string? expected)
    {
        var (week, lead) = await Opened();
        (string, string)[] values = field == "commitments[0].from:row" ? [(field, typed), ("commitments[0].to", "2027-03-08T17:00")]
            : page == "/crew" ? [(field, typed), ("skills.dressing:number", "1"), ("ratePerHour:number", "1200")] : [(field, typed)];
        var answer = await lead.PressButton(await Page(lead, Facts + page), button, values);
        Assert.True(answer.Status == 303, answer.Text);
        var file = (await week.Lead.Get($"{Address}/week-file")).Json;
        Assert.Equal(expected, At(file, pointer) is JsonObject goal ? (string?)goal["goal"] : At(file, pointer)?.ToString());
        if (page == "/tasks/wall.paint") // what the form only passes on stays
            Assert.Equal(("Air the room.", "painting"), ((string?)At(file, "/tasks/0/cautions/0"), (string?)At(file, "/tasks/0/modes/0/roles/0/skill")));
    }

    [Fact]
    public async Task What_a_form_of_a_task_does_not_change_stays()
    {
        var (week, lead) = await Opened();
        var before = At((await week.Lead.Get($"{Address}/week-file")).Json, "/tasks/1")!.ToJsonString();
        await lead.PressButton(await Page(lead, $"{Facts}/tasks/wall.forms"), "Keep this task", ("name", "Set all the forms"));
        Assert.Equal(before.Replace("Set the forms", "Set all the forms", StringComparison.Ordinal),
            At((await week.Lead.Get($"{Address}/week-file")).Json, "/tasks/1")!.ToJsonString());
    }

    [Fact]
    public async Task A_zone_its_clean_down_and_a_kind_of_equipment_are_added_and_a_task_uses_them()
    {
        var (week, lead) = await Opened();
        (string, string)[] cleanDown = [("cleanDown.minutes:number", "15"), ("cleanDown.roles[0].skill:row", "dressing"),
            ("cleanDown.roles[0].people:number", "2")];
        await lead.PressButton(await Page(lead, $"{Facts}/zones"), "Add this zone", [("name", "Stair foot"), ("maxPeople:number", "2")]);
        await lead.PressButton(await Page(lead, $"{Facts}/zones/zone-1"), "Keep these for this week", cleanDown);
        var named = Assert.Single(PageForm.With(await Page(lead, $"{Facts}/store"), "Go on to how many there are").Names);
        await lead.PressButton(await Page(lead, $"{Facts}/store?{named}=Step%20ladder%20(2%20m)"), "Add step ladder 2 m", ("count:number", "3"));
        var kept = await lead.PressButton(await Page(lead, $"{Facts}/tasks/wall.paint"), "Keep this task", ("zone", "zone-1"),
            ("modes[0].equipment[0].id:row", "step-ladder-2-m"), ("modes[0].equipment[0].count:number", "2"));
        Assert.True(kept.Status == 303, kept.Text);
        var file = (await week.Lead.Get($"{Address}/week-file")).Json;
        var zone = file["store"]!["zones"]!.AsArray().Single(one => (string?)one!["id"] == "zone-1")!;
        Assert.Equal(("Stair foot", 15, 2), ((string?)zone["name"], (int)zone["cleanDown"]!["minutes"]!,
            (int)zone["cleanDown"]!["roles"]![0]!["people"]!));
        Assert.Equal(3, (int)file["store"]!["equipment"]!.AsArray().Single(one => (string?)one!["id"] == "step-ladder-2-m")!["count"]!);
        Assert.Equal(("zone-1", 2), ((string?)At(file, "/tasks/0/zone"), (int)At(file, "/tasks/0/modes/0/equipment/0/count")!));

        // Without minutes and people it has no clean-down any more.
        await lead.PressButton(await Page(lead, $"{Facts}/zones/zone-1"), "Keep these for this week",
            ("cleanDown.minutes:number", ""), ("cleanDown.roles[0].skill:row", ""));
        Assert.DoesNotContain("\"cleanDown\"", (await week.Lead.Get($"{Address}/week-file")).Text);
    }

    [Theory]
    [InlineData("Step ladder", "There is a step ladder already: change its number above.")]
    [InlineData("Οικία", "Write the name in letters from a to z.")]
    public async Task A_kind_of_equipment_that_cannot_be_added_is_answered_with_the_reason(string name, string reason)
    {
        var (_, lead) = await Opened();
        await lead.PressButton(await Page(lead, $"{Facts}/store?equipment=step-ladder"), "Add step ladder");
        var before = await Page(lead, $"{Facts}/store");
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
    public void The_id_of_a_thing_is_made_of_its_name(string name, string id) => Assert.Equal(id, Service.Pages.Facts.WeekForms.IdOf(name));

    [Fact]
    public async Task A_fault_after_a_row_that_was_emptied_stands_beside_its_field()
    {
        var (_, lead) = await Opened();
        var answer = await lead.PressButton(await Page(lead, $"{Facts}/tasks/wall.forms"), "Keep this task",
            ("after[0].task:row", ""), ("after[1].task:row", "cycle.panel.fix"), ("after[1].dryMinutes:number", "-5"));
        Assert.Equal(400, answer.Status);
        Assert.Matches("id=\"task-after-1--dryMinutes-number\"[^>]* value=\"-5\" aria-invalid=\"true\"", answer.Text);
        Assert.DoesNotMatch("id=\"task-after-0--dryMinutes-number\"[^>]* aria-invalid", answer.Text);
    }

    [Fact]
    public async Task What_was_put_in_is_taken_back_by_a_form_too()
    {
        var (week, lead) = await Opened();
        await lead.PressButton(await Page(lead, $"{Facts}/crew/p3"), "Record the absence", ("night", "tuesday"));
        await lead.PressButton(await Page(lead, $"{Facts}/crew/p3"), "Comes after all", ("night", "tuesday"));
        Assert.Empty((await week.Week())["absences"]!.AsArray());
        await lead.PressButton(await Page(lead, $"{Facts}/kits/forms"), "Its day is not known");
        Assert.Null((await week.Week())["kits"]![0]!["eta"]);
        await lead.PressButton(await Page(lead, $"{Facts}/nights/wednesday"), "Drop this night");
        Assert.Equal(2, (await week.Week())["nights"]!.AsArray().Count);
        await lead.PressButton(await Page(lead, $"{Facts}/pins"), "Hold this shift", ("person", "p2"));
        await lead.PressButton(await Page(lead, $"{Facts}/pins"), "Let it go");
        Assert.Empty((await week.Week())["pins"]!.AsArray());
        var lately = WebUtility.HtmlDecode(await Page(lead, Facts));
        Assert.Contains("A pin was taken away.", lately);
        Assert.Contains("Cleo Strand comes in the night of Tue 9 Mar after all.", lately);
    }

    [Fact]
    public async Task A_refused_form_is_shown_again_with_what_was_typed_and_each_fault_beside_its_field()
    {
        var (week, lead) = await Opened();
        var before = await week.ETag();
        var answer = await lead.PressButton(await Page(lead, $"{Facts}/nights/tuesday"), "Keep these times",
            ("opens", "soon"), ("bans[1].trait:row", "noisy"), ("bans[1].from", "later"), ("bans[1].to", "2027-03-10T00:00"));
        var page = WebUtility.HtmlDecode(answer.Text);
        Assert.Equal((400, "text/html"), (answer.Status, answer.ContentType));
        Assert.Contains("Nothing has been kept yet.", page);
        Assert.Matches("id=\"night-opens-fault\">[^<]*is not a store-local time[^<]*</p><input id=\"night-opens\" name=\"opens\" type=\"datetime-local\" value=\"soon\" aria-invalid=\"true\" aria-describedby=\"night-opens-fault\"",
            page.Replace("\n", "").Replace("> <", "><"));
        Assert.Contains("value=\"later\" aria-invalid=\"true\"", page); // the second row, although the first was left empty
        Assert.DoesNotContain("name=\"closes\" type=\"datetime-local\" value=\"2027-03-10T00:00\" aria-invalid", page);
        Assert.Equal(before, await week.ETag());

        // What is wrong is mended in the same page, and the rest stays as it was typed.
        var mended = await lead.PressButton(answer.Text, "Keep these times",
            ("opens", "2027-03-09T19:00"), ("bans[1].from", "2027-03-09T22:00"));
        Assert.Equal(303, mended.Status);
        Assert.Equal("2027-03-09T22:00", (string?)At(await week.Week(), "/nights/1/bans/0/from"));
    }

    [Fact]
    public async Task What_was_left_empty_is_said_in_the_words_of_a_page()
    {
        var (_, lead) = await Opened();
        var answer = await lead.PressButton(await Page(lead, $"{Facts}/nights/tuesday"), "Keep these times",
            ("bans[0].trait:row", "noisy"));
        var page = WebUtility.HtmlDecode(answer.Text);
        Assert.Equal(2, Regex.Count(page, "-fault\">This field is missing; give it.</p>"));
        Assert.Contains("2 things are not right; correct them and send the form again.", page);
    }

    [Fact]
    public async Task A_form_of_an_older_version_comes_back_with_what_was_typed()
    {
        var (week, lead) = await Opened();
        var page = await Page(lead, $"{Facts}/zones/window");
        await ExpectStatus(204, week.Lead.Post($"{Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        var late = await lead.PressButton(page, "Keep these for this week", ("maxPeople:number", "7"));
        var again = late.Text;
        Assert.Equal(412, late.Status);
        Assert.Contains("Read it again, then decide again.", again);
        Assert.Contains("value=\"7\"", again);
        Assert.DoesNotContain("its version is now", again); // a number for programs
        var mended = await lead.PressButton(again, "Keep these for this week");
        Assert.Equal(303, mended.Status);
    }

    /// <summary>Whoever decides again sees what another lead has put in meanwhile.</summary>
    [Fact]
    public async Task A_form_of_an_older_version_says_what_is_so_now_beside_what_was_typed()
    {
        var (_, lead) = await Opened();
        var page = await Page(lead, $"{Facts}/zones/window");
        Assert.Equal(303, (await lead.PressButton(page, "Keep these for this week", ("maxPeople:number", "4"))).Status);
        var late = await lead.PressButton(page.Replace("name=\":key\"", "name=\":other\""), "Keep these for this week",
            ("maxPeople:number", "7"));
        Assert.Equal(412, late.Status);
        Assert.Contains("value=\"7\"", late.Text);
        Assert.Contains("As it is now: 4", late.Text);
        Assert.Single(System.Text.RegularExpressions.Regex.Matches(late.Text, "As it is now"));
    }

    /// <summary>The page of a kit that has come offers no later day any more, so that it could not show the form again.</summary>
    [Fact]
    public async Task A_form_that_its_page_has_no_more_is_refused_on_a_page_of_its_own()
    {
        var (week, lead) = await Opened();
        var page = await Page(lead, $"{Facts}/kits/forms");
        await ExpectStatus(204, week.Lead.Post($"{Address}/kits/forms/arrived",
            """{"id": "a1", "at": "2027-03-05T11:00:00Z", "lines": [{"item": "form", "received": 4}]}"""));
        var late = await lead.PressButton(page, "It is late", ("eta", "2027-03-10T12:00"), ("why", "A flat tyre."));
        Assert.Equal(409, late.Status);
        Assert.Contains("Report a count of what is missing instead.", late.Text);
        Assert.Contains("A flat tyre.", late.Text);
    }

    /// <summary>A form that names no page is answered with its refusal, not with what is wrong with that address.</summary>
    [Fact]
    public async Task A_form_of_a_page_that_is_none_is_refused_for_its_own_reason()
    {
        var (_, lead) = await Opened();
        var page = (await Page(lead, $"{Facts}/kits/forms")).Replace($"value=\"{Facts}/kits/forms\"", "value=\"/nothing/here\"");
        var refused = await lead.PressButton(page, "It is late", ("eta", "soon"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("is not a store-local time", refused.Text);
    }

    /// <summary>Another site could make a browser send a form. What that says must not stand in a page with a valid token.</summary>
    [Fact]
    public async Task A_form_without_its_token_is_not_shown_again()
    {
        var (_, lead) = await Opened();
        var page = (await Page(lead, $"{Facts}/zones/window")).Replace("name=\":token\"", "name=\":other\"");
        var answer = await lead.PressButton(page, "Keep these for this week", ("name", "Injected"));
        Assert.Equal(403, answer.Status);
        Assert.DoesNotContain("Injected", answer.Text);
    }

    [Fact]
    public async Task Head_office_sees_no_form_about_people_and_others_see_no_page()
    {
        var (_, lead) = await Opened();
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var office = await chain.SignedIn("hana", Role.HeadOffice);
        var page = await Page(office, Facts);
        Assert.DoesNotContain("Somebody joins", page);
        Assert.Contains("Move the launch", page);
        Assert.Equal(403, (await office.Api.Get($"{Facts}/crew/p3", ("Accept", "text/html"))).Status);
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        Assert.Equal(403, (await crew.Api.Get(Facts, ("Accept", "text/html"))).Status);
        // A program is told where to go.
        Assert.Equal(406, (await chain.LeadOf("harbour-street").Get(Facts, ("Accept", "application/json"))).Status);
        Markup.AssertNoForm((await chain.LeadOf("harbour-street").Get(Facts, ("Accept", "text/html"))).Text);
        lead.Dispose();
    }

    [Fact]
    public async Task A_newer_direction_is_taken_by_a_button()
    {
        var (week, lead) = await Opened();
        Assert.DoesNotContain("A newer direction", await Page(lead, Facts));
        var tag = (await week.HeadOffice.Get("/directions/first-rain")).ETag!;
        await ExpectStatus(204, week.HeadOffice.Put("/directions/first-rain",
            Direction.Replace("\"Paint the wall\"", "\"Paint the wall twice\""), ("If-Match", tag)));
        var taken = await lead.PressButton(await Page(lead, Facts), "Take version 2 into this week");
        Assert.Equal(303, taken.Status);
        Assert.Equal("Paint the wall twice", (string?)At(await week.Week(), "/tasks/0/name"));
    }

    private async Task<(FirstRain Week, Browser Lead)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null; // a form carries its own
        return (week, lead);
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.True((200, "text/html") == (answer.Status, answer.ContentType), answer.Text);
        return answer.Text;
    }

    /// <summary>The value at a JSON Pointer (RFC 6901) without escapes; null if there is none.</summary>
    private static JsonNode? At(JsonNode json, string pointer) => pointer.Split('/').Skip(1).Aggregate((JsonNode?)json, (at, part) =>
        at is JsonArray list ? list.ElementAtOrDefault(int.Parse(part, System.Globalization.CultureInfo.InvariantCulture)) : at?[part]);
}
