using System.Net;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Facts.FactsDesk;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>A lead puts in every fact and decision by a form, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class FactPagesTests(RunningService service)
{
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
        var (week, lead) = await Opened(service);
        var answer = await lead.PressButton(await Page(lead, FactsAddress + page), button, typed);
        Assert.True(answer.Status == 303, answer.Text);
        Assert.Equal(expected, (string?)At(await week.Week(), pointer));
        // Where the form leads, what was put in is the first of the latest.
        Assert.StartsWith(FactsAddress, answer.Location!);
        Assert.Contains("Put in last", await Page(lead, FactsAddress));
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
        var (week, lead) = await Opened(service);
        (string, string)[] values = field == "commitments[0].from:row" ? [(field, typed), ("commitments[0].to", "2027-03-08T17:00")]
            : page == "/crew" ? [(field, typed), ("skills.dressing:number", "1"), ("ratePerHour:number", "1200")] : [(field, typed)];
        var answer = await lead.PressButton(await Page(lead, FactsAddress + page), button, values);
        Assert.True(answer.Status == 303, answer.Text);
        var file = (await week.Lead.Get($"{Address}/week-file")).Json;
        Assert.Equal(expected, At(file, pointer) is JsonObject goal ? (string?)goal["goal"] : At(file, pointer)?.ToString());
        if (page == "/tasks/wall.paint") // what the form only passes on stays
            Assert.Equal(("Air the room.", "painting"), ((string?)At(file, "/tasks/0/cautions/0"), (string?)At(file, "/tasks/0/modes/0/roles/0/skill")));
    }

    [Fact]
    public async Task What_was_put_in_is_taken_back_by_a_form_too()
    {
        var (week, lead) = await Opened(service);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/crew/p3"), "Record the absence", ("night", "tuesday"));
        await lead.PressButton(await Page(lead, $"{FactsAddress}/crew/p3"), "Comes after all", ("night", "tuesday"));
        Assert.Empty((await week.Week())["absences"]!.AsArray());
        await lead.PressButton(await Page(lead, $"{FactsAddress}/kits/forms"), "Its day is not known");
        Assert.Null((await week.Week())["kits"]![0]!["eta"]);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/nights/wednesday"), "Drop this night");
        Assert.Equal(2, (await week.Week())["nights"]!.AsArray().Count);
        await lead.PressButton(await Page(lead, $"{FactsAddress}/pins"), "Hold this shift", ("person", "p2"));
        await lead.PressButton(await Page(lead, $"{FactsAddress}/pins"), "Let it go");
        Assert.Empty((await week.Week())["pins"]!.AsArray());
        var lately = WebUtility.HtmlDecode(await Page(lead, FactsAddress));
        Assert.Contains("A pin was taken away.", lately);
        Assert.Contains("Cleo Strand comes in the night of Tue 9 Mar after all.", lately);
    }

    [Fact]
    public async Task Head_office_sees_no_form_about_people_and_others_see_no_page()
    {
        var (_, lead) = await Opened(service);
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        using var office = await chain.SignedIn("hana", Role.HeadOffice);
        var page = await Page(office, FactsAddress);
        Assert.DoesNotContain("Somebody joins", page);
        Assert.Contains("Move the launch", page);
        Assert.Equal(403, (await office.Api.Get($"{FactsAddress}/crew/p3", ("Accept", "text/html"))).Status);
        using var crew = await chain.SignedIn("p3", Role.Crew, "harbour-street");
        Assert.Equal(403, (await crew.Api.Get(FactsAddress, ("Accept", "text/html"))).Status);
        // A program is told where to go.
        Assert.Equal(406, (await chain.LeadOf("harbour-street").Get(FactsAddress, ("Accept", "application/json"))).Status);
        Markup.AssertNoForm((await chain.LeadOf("harbour-street").Get(FactsAddress, ("Accept", "text/html"))).Text);
        lead.Dispose();
    }

    [Fact]
    public async Task A_newer_direction_is_taken_by_a_button()
    {
        var (week, lead) = await Opened(service);
        Assert.DoesNotContain("A newer direction", await Page(lead, FactsAddress));
        var tag = (await week.HeadOffice.Get("/directions/first-rain")).ETag!;
        await ExpectStatus(204, week.HeadOffice.Put("/directions/first-rain",
            Direction.Replace("\"Paint the wall\"", "\"Paint the wall twice\""), ("If-Match", tag)));
        var taken = await lead.PressButton(await Page(lead, FactsAddress), "Take version 2 into this week");
        Assert.Equal(303, taken.Status);
        Assert.Equal("Paint the wall twice", (string?)At(await week.Week(), "/tasks/0/name"));
    }
}
