using System.Net;
using System.Text;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages.NewWeeks;

/// <summary>Head office brings in what weeks are opened from: directions and stores, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class HeadOfficeFormsTests(RunningService service)
{
    private const string Issue = "Issue this direction";

    [Fact]
    public async Task A_direction_is_pasted_its_faults_are_listed_and_what_was_pasted_is_still_there()
    {
        using var office = await service.NewChain().SignedIn("hana", Role.HeadOffice);
        office.FormToken = null;
        var wrong = Direction.Replace("\"display\": \"cycle\",", "\"display\": \"moon\",");
        var refused = await office.PressButton(await Raw(office, "/directions"), Issue, (":body", wrong));
        Assert.Equal((422, "text/html"), (refused.Status, refused.ContentType));
        var again = WebUtility.HtmlDecode(refused.Text);
        Assert.Contains("tasks 3, display: ", again);
        Assert.Contains("\"display\": \"moon\",", again);
        var noJson = await office.PressButton(refused.Text, Issue, (":body", "First Rain"));
        Assert.Equal(400, noJson.Status);
        Assert.Contains("This is not JSON: reading stopped at line 1", WebUtility.HtmlDecode(noJson.Text));
        Assert.Contains("This is empty; JSON is expected.", (await office.PressButton(noJson.Text, Issue, (":body", ""))).Text);
        // A direction may have 8 MiB, also if it is pasted. The framework by itself takes 4 MiB in a field.
        var spaces = new string(' ', 5 * 1024 * 1024);
        var issued = await office.PressButton(noJson.Text, Issue, (":body", Direction + spaces));
        Assert.Equal((303, "/directions/first-rain"), (issued.Status, issued.Location));
    }

    [Fact]
    public async Task A_direction_and_its_new_version_are_chosen_as_files()
    {
        using var office = await service.NewChain().SignedIn("hana", Role.HeadOffice);
        office.FormToken = null;
        byte[] latin = [.. Encoding.UTF8.GetBytes("{\"id\": \""), 0xE9, .. Encoding.UTF8.GetBytes("\"}")];
        var unread = await PageForm.With(await Raw(office, "/directions"), Issue).Attach(latin).Send(office);
        Assert.Contains("This is not UTF-8 text; save it as UTF-8.", unread.Text);
        var issued = await PageForm.With(unread.Text, Issue).Fill(":body", "what stood there before").Attach(Encoding.UTF8.GetBytes(Direction)).Send(office);
        Assert.True(issued.Status == 303, issued.Text);
        var before = await Raw(office, issued.Location!);

        // A file that is refused stands in the form as if it had been typed.
        var other = await PageForm.With(before, "Issue it as version 2").Attach(Encoding.UTF8.GetBytes(Direction.Replace("\"zone\"", "\"zoen\""))).Send(office);
        Assert.Equal(400, other.Status);
        Assert.Contains("\"zoen\": \"window\"", WebUtility.HtmlDecode(other.Text));
        var revised = await office.PressButton(other.Text, "Issue it as version 2", (":body", Direction.Replace("Painted wall", "Stencilled wall")));
        Assert.Equal((303, "/directions/first-rain"), (revised.Status, revised.Location));
        Assert.Contains("Stencilled wall", await Raw(office, "/directions/first-rain"));
        Assert.Equal(412, (await office.PressButton(before, "Issue it as version 2", (":body", Direction))).Status);
    }

    [Fact]
    public async Task A_store_is_opened_by_its_fields_and_found_among_those_without_a_week()
    {
        var chain = service.NewChain();
        using var office = await chain.SignedIn("hana", Role.HeadOffice);
        office.FormToken = null;
        Assert.Contains("href=\"/new-store\"", await Raw(office, "/stores"));
        var refused = await office.PressButton(await Raw(office, "/new-store"), "Open this store", ("name", "Mill Lane"), ("id", "mill-lane"),
            ("timeZone", "Europe/Atlantis"), ("zones[1].id:row", "window"), ("zones[1].name", "Show window"), ("zones[1].maxPeople:number", "2"),
            ("zones[1].cleanDown.minutes:number", "10"), ("zones[1].cleanDown.roles[0].skill:row", "cleaning"),
            ("zones[1].cleanDown.roles[0].people:number", "1"), ("equipment[0].id:row", "ladder"), ("equipment[0].count:number", "2"),
            ("features:lines", "tall-window\nceiling-points"), ("region.id:row", "south"), ("region.name", "South"));
        Assert.Equal(400, refused.Status);
        Assert.Contains("This is not an IANA time zone", refused.Text);
        var opened = await office.PressButton(refused.Text, "Open this store", ("timeZone", "Europe/London"));
        Assert.Equal((303, "/stores/mill-lane"), (opened.Status, opened.Location));
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse("""
            {"id": "mill-lane", "name": "Mill Lane", "timeZone": "Europe/London",
             "zones": [{"id": "window", "name": "Show window", "maxPeople": 2,
                        "cleanDown": {"minutes": 10, "roles": [{"skill": "cleaning", "people": 1, "level": 1}]}, "tradePerDay": 0}],
             "equipment": [{"id": "ladder", "count": 2}], "features": ["tall-window", "ceiling-points"],
             "region": {"id": "south", "name": "South"}}
            """), (await chain.HeadOffice.Get("/stores/mill-lane")).Json), (await chain.HeadOffice.Get("/stores/mill-lane")).Text);

        var ledger = WebUtility.HtmlDecode(await Raw(office, "/stores"));
        Assert.Contains("Stores without a week", ledger);
        Assert.Contains("<a href=\"/stores/mill-lane\"><bdi>Mill Lane</bdi></a>", ledger);
        Assert.Contains("South (south)", await Raw(office, "/new-store"));
        using var elsewhere = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        Assert.DoesNotContain("mill-lane", await Raw(elsewhere, "/stores"));
        using var crew = await chain.SignedIn("cy", Role.Crew, "mill-lane");
        Assert.DoesNotContain("Stores without a week", await Raw(crew, "/stores"));
    }

    [Fact]
    public async Task The_form_of_a_store_has_few_rows_until_more_are_asked_for()
    {
        using var office = await service.NewChain().SignedIn("hana", Role.HeadOffice);
        office.FormToken = null;
        var few = await Raw(office, "/new-store");
        Assert.Equal((4, 4), RowsOf(few));
        var more = await PageForm.With(few, "Show so many rows").Fill("zones", "9").Fill("equipment", "1").Send(office);
        Assert.Equal((9, 1), RowsOf(more.Text));
        // A refused form has the rows in which something was typed.
        var refused = await office.PressButton(more.Text, "Open this store", ("name", "Mill Lane"), ("id", "mill-lane"),
            ("timeZone", "Europe/Atlantis"), ("zones[8].id:row", "attic"), ("zones[8].name", "Attic"));
        Assert.Equal((400, (9, 1)), (refused.Status, RowsOf(refused.Text)));
        Assert.Equal(["attic"], PageForm.With(refused.Text, "Open this store").SentIn("zones[8].id:row"));
        foreach (var rows in new[] { "0", "41", "many", "" })
            Assert.Equal(400, (await office.Api.Get($"/new-store?zones={rows}", ("Accept", "text/html"))).Status);

        static (int, int) RowsOf(string page) =>
            (PageForm.With(page, "Open this store").Names.Count(name => name.EndsWith("].maxPeople:number", StringComparison.Ordinal)),
                PageForm.With(page, "Open this store").Names.Count(name => name.EndsWith("].count:number", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_store_is_opened_by_a_file_and_only_documents_are_sent_as_one()
    {
        var chain = service.NewChain();
        using var office = await chain.SignedIn("hana", Role.HeadOffice);
        office.FormToken = null;
        var page = await Raw(office, "/new-store");
        var opened = await PageForm.With(page, "Open the store of this file").Attach(Encoding.UTF8.GetBytes(Samples.Store())).Send(office);
        Assert.Equal((303, "/stores/harbour-street"), (opened.Status, opened.Location));
        // The other form of the same page opens another store.
        var other = await office.PressButton(page, "Open this store", ("name", "Mill Lane"), ("id", "mill-lane"), ("timeZone", "Europe/London"),
            ("zones[0].id:row", "window"), ("zones[0].name", "Show window"));
        Assert.Equal((303, "/stores/mill-lane"), (other.Status, other.Location));
        var again = await PageForm.With(await Raw(office, "/new-store"), "Open the store of this file")
            .Attach(Encoding.UTF8.GetBytes(Samples.Store())).Send(office);
        Assert.Equal(409, again.Status);
        // The other form of the page was not refused.
        Assert.Single(Markup.Of(again.Text).Descendants("div"), part => (string?)part.Attribute("role") == "alert");
        await office.ReadFormToken();
        using var file = new MultipartFormDataContent { { new ByteArrayContent("{}"u8.ToArray()), "\":body\"", "\"a.json\"" } };
        Assert.Equal(415, (await office.Api.Send(HttpMethod.Post, "/memos", file)).Status);
    }

    private static async Task<string> Raw(Browser reader, string address) =>
        (await ExpectStatus(200, reader.Api.Get(address, ("Accept", "text/html")))).Text;
}
