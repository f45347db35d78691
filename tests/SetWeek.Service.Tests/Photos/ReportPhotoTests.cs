using AngleSharp.Html.Parser;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Photos.PhotoUpload;
using static SetWeek.Service.Tests.Photos.TestPictures;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Photos;

/// <summary>The photographs that a snag, a block or a finish names, and the page that says what each belongs to.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ReportPhotoTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday";

    [Fact]
    public async Task A_page_sends_a_photograph_with_the_snag_that_names_it_and_needs_its_token_as_every_form_does()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        week.Clock.MoveTo("2027-03-08T22:40");
        using var crew = await chain.SignedIn("p1", Role.Crew, "harbour-street");
        var token = crew.FormToken!;
        crew.FormToken = null;
        Assert.Equal("no-form-token", (await Send(crew, null, "photo-1", Jpeg())).Code);
        Assert.Equal("no-form-token", (await Send(crew, token[..^4], "photo-1", Jpeg())).Code);
        Assert.Empty((await week.Lead.Get(PhotosOfWeek)).Json["photos"]!.AsArray());

        var raised = await Send(crew, token, "photo-1", Jpeg());
        Assert.Equal((303, $"{Address}/snags"), (raised.Status, raised.Location));
        Assert.Equal("photo-1", (string?)(await week.Lead.Get($"{Address}/snags/1")).Json["photos"]!.AsArray().Single());
        await ExpectStatus(200, week.Lead.Get($"{PhotosOfWeek}/photo-1/thumbnail"));
        var again = await Send(crew, token, "photo-1", Jpeg());
        Assert.Equal(303, again.Status);
        Assert.Single((await week.Lead.Get($"{Address}/snags")).Json["snags"]!.AsArray());

        // No file was chosen: the snag has no photograph. A file without pixels: there is no snag either.
        Assert.Equal(303, (await Send(crew, token, "photo-2", null, "s2")).Status);
        Assert.Empty((await week.Lead.Get($"{Address}/snags/2")).Json["photos"]!.AsArray());
        Assert.Equal("photo-empty", (await Send(crew, token, "photo-3", [], "s3")).Code);
        Assert.Equal(404, (await week.Lead.Get($"{Address}/snags/3")).Status);

        static Task<ApiResponse> Send(Browser browser, string? token, string photo, byte[]? file, string id = "s1")
        {
            var form = new MultipartFormDataContent();
            foreach (var (name, value) in new[]
            {
                (":token", token), (":then", $"{Address}/snags"), ("id", id), ("at", "2027-03-08T22:36:00Z"), ("what", "Chipped"),
                ("zone", "window"), ("owner", "store"), ("due", "2027-03-12"), (":photo", photo),
            })
                if (value is not null) form.Add(new StringContent(value), name);
            AddFile(form, "photos:photo", file ?? [], file is null ? "" : "photo.jpg");
            return browser.Api.Send(HttpMethod.Post, $"{Address}/snags", form);
        }
    }

    [Fact]
    public async Task A_block_names_its_photographs()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/blocked", """
            {"id": "b1", "task": "wall.paint", "at": "2027-03-08T21:00:00Z", "reason": "no-power", "photos": ["photo-1"]}
            """));
        var told = (await chain.HeadOffice.Get("/feed")).Json.AsArray().Last(e => (string?)e!["type"] == "setweek.work-blocked.v1");
        Assert.Equal("photo-1", (string?)told!["data"]!["photos"]!.AsArray().Single());
    }

    [Fact]
    public async Task A_block_names_the_photograph_that_its_page_sends_and_the_sheet_shows_it()
    {
        var (week, address, lead) = await Painting();
        var page = await Page(lead, $"{address}?act=blocked");
        await Accepted(PageForm.With(page, "Blocked: tell the lead").Fill("reason", "no-power").Attach(Jpeg()).Send(lead));
        var report = (await week.Lead.Get(address)).Json["report"]!;
        Assert.Equal(("blocked", "no-power"), ((string?)report["state"], (string?)report["reason"]));
        var photo = (string)Assert.Single(report["photos"]!.AsArray())!;
        await ExpectStatus(200, week.Lead.Get($"{PhotosOfWeek}/{photo}"));
        Assert.Contains($"href=\"{PhotosOfWeek}/{photo}\"", await Page(lead, $"{Night}/sheet"));
        // Without a photograph the block has none.
        await Accepted(PageForm.With(await Page(lead, $"{address}?act=blocked"), "Blocked: tell the lead")
            .Fill("reason", "no-power").Send(lead));
        Assert.Single((await week.Lead.Get(address)).Json["report"]!["photos"]!.AsArray());
    }

    [Fact]
    public async Task A_finish_names_the_photograph_that_its_page_sends()
    {
        var (week, address, lead) = await Painting();
        await Accepted(PageForm.With(await Page(lead, $"{address}?act=finish"), "Sign and finish")
            .Fill("checks[0].result", "good").Attach(Jpeg()).Send(lead));
        var report = (await week.Lead.Get(address)).Json["report"]!;
        var photo = (string)Assert.Single(report["photos"]!.AsArray())!;
        Assert.Equal("done", (string?)report["state"]);
        await ExpectStatus(200, week.Lead.Get($"{PhotosOfWeek}/{photo}"));
        Assert.Contains($"href=\"{PhotosOfWeek}/{photo}\"", await Page(lead, $"{Night}/sheet"));
    }

    [Fact]
    public async Task The_page_says_what_each_photograph_belongs_to_and_erases_one()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T22:40");
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        foreach (var photo in new[] { "photo-1", "photo-2", "photo-3" }) await ExpectStatus(201, Upload(crew, photo, Jpeg()));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/blocked", """
            {"id": "b1", "task": "wall.paint", "at": "2027-03-08T21:00:00Z", "reason": "no-power", "photos": ["photo-1"]}
            """));
        await ExpectStatus(201, crew.Post($"{Address}/snags", """
            {"id": "s1", "at": "2027-03-08T22:36:00Z", "what": "Chipped", "zone": "window", "owner": "store", "due": "2027-03-12",
             "photos": ["photo-2"]}
            """));
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var page = await Page(lead, PhotosOfWeek);
        Assert.Equal(["Belongs to no report yet", "Snag 1", "Paint the wall"], Headings(page));
        Assert.Contains("This week has 3 photographs.", page);
        Assert.Contains("Sent by Asha Rowan, Monday 8 March, 22:40.", page);
        Assert.Contains($"href=\"{Address}/photos\"", await Page(lead, $"{Address}/history"));

        // The first is the latest: nobody has named it, and it shows somebody.
        await Accepted(PageForm.With(page, "Erase it").Send(lead), PhotosOfWeek);
        Assert.Equal(["Snag 1", "Paint the wall"], Headings(await Page(lead, PhotosOfWeek)));
        using var member = await chain.SignedIn("p2", Role.Crew, "harbour-street");
        Assert.DoesNotContain("Erase", await Page(member, PhotosOfWeek));
        using var head = await chain.SignedIn("ada", Role.HeadOffice);
        page = await Page(head, PhotosOfWeek);
        Assert.Contains("Erase it", page);
        Assert.DoesNotContain("Asha", page);
        Assert.Equal(403, (await chain.As("eva", Role.Engineer).Get(PhotosOfWeek, ("Accept", "text/html"))).Status);

        static IEnumerable<string> Headings(string page) => new HtmlParser().ParseDocument(page).QuerySelectorAll(".ledger h3")
            .Select(heading => heading.TextContent);
    }

    /// <summary>The wall is painted: the address of that piece, and the browser of the lead.</summary>
    private async Task<(FirstRain Week, string Address, Browser Lead)> Painting()
    {
        var (chain, week, paint, _) = await OpenedWith(service, FirstRain.Direction);
        return (week, $"{Night}/pieces/{paint}", await SignedIn(chain, "lena", Role.Lead));
    }
}
