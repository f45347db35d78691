using System.Net.Http.Headers;
using AngleSharp.Html.Parser;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Photos.TestPictures;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Photos;

[Collection(ServiceCollection.Name)]
public sealed class PhotoTests(RunningService service)
{
    private const string Photos = $"{Address}/photos";

    [Fact]
    public async Task A_photograph_is_kept_once_under_the_id_of_its_device_and_read_by_those_of_its_week()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        var added = await ExpectStatus(201, Upload(crew, "photo-1", WithExif(Jpeg(), 6, "Maker of cameras")));
        Assert.Equal(($"{Photos}/photo-1", $"{Photos}/photo-1/thumbnail"),
            (added.Location, (string?)added.Json["thumbnail"]));
        await ExpectStatus(201, Upload(week.Lead, "photo-1", WithExif(Jpeg(), 6, "Maker of cameras")));
        var other = await Upload(crew, "photo-1", Png());
        Assert.Equal((409, "photo-id-used"), (other.Status, other.Code));

        foreach (var reader in new[] { week.Lead, crew, chain.HeadOffice, chain.As("rena", Role.Region, "harbour-street") })
        {
            var listed = Assert.Single((await ExpectStatus(200, reader.Get(Photos))).Json["photos"]!.AsArray())!;
            Assert.Equal((40, 80, "p1"), ((int)listed["width"]!, (int)listed["height"]!, (string?)listed["person"]));
            await ExpectStatus(200, reader.Get((string)listed["address"]!));
            await ExpectStatus(200, reader.Get((string)listed["thumbnail"]!));
        }
        Assert.Equal(403, (await chain.As("eva", Role.Engineer).Get($"{Photos}/photo-1")).Status);
        Assert.Equal(404, (await chain.LeadOf("mill-lane").Get($"{Photos}/photo-1")).Status);
        Assert.Equal(404, (await service.NewChain().HeadOffice.Get($"{Photos}/photo-1")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Photos}/photo-2")).Status);
    }

    [Fact]
    public async Task A_browser_keeps_a_photograph_for_good_and_takes_it_for_nothing_else()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, Upload(week.Lead, "photo-1", Png()));
        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", chain.TokenOf("lena", Role.Lead));
        using var answer = await client.GetAsync($"{Photos}/photo-1");
        Assert.Equal("image/jpeg", answer.Content.Headers.ContentType!.ToString());
        Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal((true, TimeSpan.FromDays(365)), (answer.Headers.CacheControl!.Private, answer.Headers.CacheControl.MaxAge));
        Assert.Equal((byte[])[0xFF, 0xD8, 0xFF], (await answer.Content.ReadAsByteArrayAsync())[..3]);
    }

    [Fact]
    public async Task A_file_that_is_no_photograph_gets_problem_details_and_nothing_is_stored()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        foreach (var (what, file, code) in PictureReaderTests.Hostile.Select(row => ((string)row[0], (byte[])row[1], (string)row[2])))
        {
            var answer = await Upload(week.Lead, "photo-1", file);
            Assert.True(answer.ContentType == "application/problem+json", what);
            // A form that is too large is refused before it is read.
            Assert.Equal(code == "photo-too-large" ? (413, null) : (422, code), (answer.Status, answer.Code));
        }
        var large = await Upload(week.Lead, "photo-1", [.. Jpeg(), .. new byte[8 * 1024 * 1024]]);
        Assert.Equal((422, "photo-too-large"), (large.Status, large.Code));
        Assert.Equal(400, (await Upload(week.Lead, "Photo 1", Png())).Status);
        Assert.Equal("no-photo", (await week.Lead.Post(Photos, "{}")).Code);
        Assert.Equal(415, (await week.Lead.Send(HttpMethod.Post, $"{Address}/crew", Form("photo-1", Png()))).Status);
        Assert.Empty((await week.Lead.Get(Photos)).Json["photos"]!.AsArray());
    }

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
        Assert.Empty((await week.Lead.Get(Photos)).Json["photos"]!.AsArray());

        var raised = await Send(crew, token, "photo-1", Jpeg());
        Assert.Equal((303, $"{Address}/snags"), (raised.Status, raised.Location));
        Assert.Equal("photo-1", (string?)(await week.Lead.Get($"{Address}/snags/1")).Json["photos"]!.AsArray().Single());
        await ExpectStatus(200, week.Lead.Get($"{Photos}/photo-1/thumbnail"));
        var again = await Send(crew, token, "photo-1", Jpeg());
        Assert.Equal(303, again.Status);
        Assert.Single((await week.Lead.Get($"{Address}/snags")).Json["snags"]!.AsArray());

        // No file was chosen: the snag has no photograph. A file without pixels: there is no snag either.
        Assert.Equal(303, (await Send(crew, token, "photo-2", null, "s2")).Status);
        Assert.Empty((await week.Lead.Get($"{Address}/snags/2")).Json["photos"]!.AsArray());
        Assert.Equal("photo-empty", (await Send(crew, token, "photo-3", [], "s3")).Code);
        Assert.Equal(404, (await week.Lead.Get($"{Address}/snags/3")).Status);

        static Task<ApiResponse> Send(Access.Browser browser, string? token, string photo, byte[]? file, string id = "s1")
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
    public async Task A_photograph_that_shows_somebody_is_erased_and_does_not_come_back()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, Upload(week.Lead, "photo-1", Jpeg()));
        var crew = chain.As("p1", Role.Crew, "harbour-street");
        Assert.Equal(403, (await crew.Send(HttpMethod.Delete, $"{Photos}/photo-1", (string?)null)).Status);
        for (var time = 0; time < 2; time++)
            await ExpectStatus(204, week.Lead.Send(HttpMethod.Delete, $"{Photos}/photo-1", (string?)null));
        await ExpectStatus(201, Upload(crew, "photo-1", Jpeg())); // a phone that got no answer
        Assert.Equal(404, (await week.Lead.Get($"{Photos}/photo-1")).Status);
        Assert.Equal(404, (await week.Lead.Get($"{Photos}/photo-1/thumbnail")).Status);
        Assert.Equal(404, (await week.Lead.Send(HttpMethod.Delete, $"{Photos}/photo-2", (string?)null)).Status);
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
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        var paint = (await ExpectStatus(200, week.Lead.Get($"{Address}/nights/monday/sheet"))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!;
        var address = $"{Address}/nights/monday/pieces/{paint["number"]}";
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = (await lead.Api.Get($"{address}?act=blocked", ("Accept", "text/html"))).Text;
        var sent = await PageForm.With(page, "Blocked: tell the lead").Fill("reason", "no-power").Attach(Jpeg()).Send(lead);
        Assert.Equal(303, sent.Status);
        var report = (await week.Lead.Get(address)).Json["report"]!;
        Assert.Equal(("blocked", "no-power"), ((string?)report["state"], (string?)report["reason"]));
        var photo = (string)Assert.Single(report["photos"]!.AsArray())!;
        await ExpectStatus(200, week.Lead.Get($"{Photos}/{photo}"));
        Assert.Contains($"href=\"{Photos}/{photo}\"", (await lead.Api.Get($"{Address}/nights/monday/sheet", ("Accept", "text/html"))).Text);
        // Without a photograph the block has none.
        Assert.Equal(303, (await PageForm.With((await lead.Api.Get($"{address}?act=blocked", ("Accept", "text/html"))).Text,
            "Blocked: tell the lead").Fill("reason", "no-power").Send(lead)).Status);
        Assert.Single((await week.Lead.Get(address)).Json["report"]!["photos"]!.AsArray());
    }

    [Fact]
    public async Task A_finish_names_the_photograph_that_its_page_sends()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T20:30");
        var paint = (await ExpectStatus(200, week.Lead.Get($"{Address}/nights/monday/sheet"))).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!;
        var address = $"{Address}/nights/monday/pieces/{paint["number"]}";
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var sent = await PageForm.With((await lead.Api.Get($"{address}?act=finish", ("Accept", "text/html"))).Text, "Sign and finish")
            .Fill("checks[0].result", "good").Attach(Jpeg()).Send(lead);
        Assert.Equal(303, sent.Status);
        var report = (await week.Lead.Get(address)).Json["report"]!;
        var photo = (string)Assert.Single(report["photos"]!.AsArray())!;
        Assert.Equal("done", (string?)report["state"]);
        await ExpectStatus(200, week.Lead.Get($"{Photos}/{photo}"));
        Assert.Contains($"href=\"{Photos}/{photo}\"", (await lead.Api.Get($"{Address}/nights/monday/sheet", ("Accept", "text/html"))).Text);
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
        using var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null;
        var page = await Page(lead);
        Assert.Equal(["Belongs to no report yet", "Snag 1", "Paint the wall"], Headings(page));
        Assert.Contains("This week has 3 photographs.", page);
        Assert.Contains("Sent by Asha Rowan, Monday 8 March, 22:40.", page);
        Assert.Contains($"href=\"{Address}/photos\"", (await lead.Api.Get($"{Address}/history", ("Accept", "text/html"))).Text);

        // The first is the latest: nobody has named it, and it shows somebody.
        Assert.Equal((303, Photos), await Access.PageForm.With(page, "Erase it").Send(lead) is var erased ? (erased.Status, erased.Location!) : default);
        Assert.Equal(["Snag 1", "Paint the wall"], Headings(await Page(lead)));
        using var member = await chain.SignedIn("p2", Role.Crew, "harbour-street");
        Assert.DoesNotContain("Erase", await Page(member));
        using var head = await chain.SignedIn("ada", Role.HeadOffice);
        page = await Page(head);
        Assert.Contains("Erase it", page);
        Assert.DoesNotContain("Asha", page);
        Assert.Equal(403, (await chain.As("eva", Role.Engineer).Get(Photos, ("Accept", "text/html"))).Status);

        static async Task<string> Page(Access.Browser browser) =>
            (await ExpectStatus(200, browser.Api.Get(Photos, ("Accept", "text/html")))).Text;

        static IEnumerable<string> Headings(string page) => new HtmlParser().ParseDocument(page).QuerySelectorAll(".ledger h3")
            .Select(heading => heading.TextContent);
    }

    private static Task<ApiResponse> Upload(ApiClient client, string id, byte[] file) =>
        client.Send(HttpMethod.Post, Photos, Form(id, file));

    private static MultipartFormDataContent Form(string id, byte[] file)
    {
        var form = new MultipartFormDataContent { { new StringContent(id), "photoId" } };
        AddFile(form, "photo", file, "photo.bin");
        return form;
    }

    private static void AddFile(MultipartFormDataContent form, string field, byte[] file, string name)
    {
        var content = new ByteArrayContent(file);
        content.Headers.ContentDisposition = new ContentDispositionHeaderValue("form-data") { Name = $"\"{field}\"", FileName = $"\"{name}\"" };
        content.Headers.ContentType = new MediaTypeHeaderValue("image/jpeg");
        form.Add(content);
    }
}
