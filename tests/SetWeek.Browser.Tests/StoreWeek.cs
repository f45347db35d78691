using System.Text.Json.Nodes;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Photos;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests;

/// <summary>A week of a chain of its own, with a published plan.</summary>
public sealed class StoreWeek
{
    private readonly Site site;

    private StoreWeek(Site site, string chain, string id, string store) =>
        (this.site, Chain, Id, Store, Lead) = (site, chain, id, store, site.As(chain, "lena", Role.Lead, store));

    public string Chain { get; }

    public string Id { get; }

    public string Store { get; }

    public string Address => $"/weeks/{Id}";

    public ApiClient Lead { get; }

    /// <summary>The id of the published plan.</summary>
    public string Plan { get; private set; } = "";

    /// <summary>The tasks of the published plan with their nights, in the plan's order.</summary>
    public IReadOnlyList<(string Task, string Night)> Work { get; private set; } = [];

    /// <summary>When its pages are looked at, by the clock of planning.</summary>
    public string Time { get; private set; } = "2027-03-05T12:00";

    /// <summary>
    /// Pieces by the state that they were brought into: the address below that of the week, and one of its people.
    /// </summary>
    public Dictionary<string, (string Address, string Person)> Pieces { get; } = [];

    /// <summary>The demo's week, in its first night: nine people, six nights.</summary>
    /// <param name="chain">The id of its chain, which is new; null: one that no other test uses.</param>
    public static async Task<StoreWeek> OfDemo(Site site, string? chain = null)
    {
        var week = await Open(site, Scenario("first-rain.direction"), Scenario("harbour-street.store"),
            Scenario("harbour-street.opening"), chain);
        await week.PlanAndPublish();
        week.MoveTo("2027-03-07T19:00");
        await week.HasSnags();
        await week.HasQuestionsAndMemos();
        return week;
    }

    /// <summary>The small week of the service's tests: three people, three nights from Monday 8 March 2027, 20:00.</summary>
    public static async Task<StoreWeek> Small(Site site)
    {
        var week = await SmallUnplanned(site);
        await week.PlanAndPublish();
        return week;
    }

    /// <summary>The same before its first plan.</summary>
    public static Task<StoreWeek> SmallUnplanned(Site site) =>
        Open(site, FirstRain.Direction, Samples.Store(), FirstRain.Opening);

    public static async Task<StoreWeek> Open(Site site, string direction, string store, string opening, string? chain = null)
    {
        chain ??= Site.NewChain();
        site.Clock.Reset();
        var office = site.As(chain, "head", Role.HeadOffice);
        await FirstRain.ExpectStatus(201, office.Post("/directions", direction));
        await FirstRain.ExpectStatus(201, office.Post("/stores", store));
        var week = new StoreWeek(site, chain, (string)JsonNode.Parse(opening)!["id"]!, (string)JsonNode.Parse(opening)!["store"]!);
        await FirstRain.ExpectStatus(201, week.Lead.Post("/weeks", opening));
        return week;
    }

    /// <param name="time">UTC, which is London's time before 28 March 2027.</param>
    public void MoveTo(string time)
    {
        Time = time;
        site.Clock.MoveTo(time);
    }

    /// <summary>Enrols the phone that shows a page, with a code of the lead.</summary>
    public async Task Enrol(IPage phone)
    {
        var made = await FirstRain.ExpectStatus(201, Lead.Post($"/stores/{Store}/phones", """{"name": "Phone 1"}"""));
        await phone.GotoAsync($"/phone?code={made.Json["code"]}");
        await phone.GetByRole(AriaRole.Button, new() { Name = "Enrol this phone" }).ClickAsync();
        await phone.GetByText("Enrol this phone").WaitForAsync(new() { State = WaitForSelectorState.Detached });
    }

    /// <summary>Raises two snags: one with a photograph, one by which somebody could be hurt.</summary>
    private async Task HasSnags()
    {
        var photo = new MultipartFormDataContent { { new StringContent("photo-1"), "photoId" } };
        photo.Add(new ByteArrayContent(TestPictures.Jpeg(800, 600)), "photo", "photo.jpg");
        await FirstRain.ExpectStatus(201, Lead.Send(HttpMethod.Post, $"{Address}/photos", photo));
        await FirstRain.ExpectStatus(201, Lead.Post($"{Address}/snags", """
            {"id": "s1", "at": "2027-03-07T18:40:00Z", "what": "Skirting chipped, left return", "why": "It was so before we came",
             "zone": "feature-wall", "owner": "store", "due": "2027-03-13", "photos": ["photo-1", "photo-2"]}
            """));
        await FirstRain.ExpectStatus(201, Lead.Post($"{Address}/snags", """
            {"id": "s2", "at": "2027-03-07T18:50:00Z", "what": "A lamp hangs loose", "zone": "show-window",
             "owner": "trade", "trade": "electrician", "due": "2027-03-08", "safety": true}
            """));
    }

    /// <summary>Two questions about one display, and two memos: one about safety that waits, one that is read.</summary>
    private async Task HasQuestionsAndMemos()
    {
        (string, string)[] questions =
            [("q1", "May the canopy hang 20 cm lower?"), ("q2", "Which side of the cloth faces the street?")];
        foreach (var (id, text) in questions)
            await FirstRain.ExpectStatus(204, Lead.Post($"{Address}/questions", $$"""
                {"id": "{{id}}", "for": "headOffice", "text": "{{text}}", "display": "canopy", "at": "2027-03-07T18:30:00Z"}
                """));
        var office = site.As(Chain, "head", Role.HeadOffice);
        await FirstRain.ExpectStatus(201, office.Post("/memos", """
            {"direction": "first-rain", "safety": true, "text": "Hang nothing from the canopy's lower hook before the new one comes."}
            """));
        var read = await FirstRain.ExpectStatus(201, office.Post("/memos",
            """{"direction": "first-rain", "text": "The second lorry brings spare skirting."}"""));
        await FirstRain.ExpectStatus(204, Lead.Post($"{Address}/memos/{read.Json["id"]}/read", ""));
    }

    /// <summary>Requests a plan. The search does a fixed amount of work, so that a busy machine finds a plan too.</summary>
    /// <returns>The settled plan.</returns>
    public async Task<JsonNode> Ask(string limits = """{"effort": 1, "workers": 1}""") =>
        await Settled((await FirstRain.ExpectStatus(202, Lead.Post($"{Address}/plans", limits))).Location!);

    /// <param name="limits">Of the search, as in <see cref="Ask"/>.</param>
    public async Task PlanAndPublish(string limits = """{"effort": 1, "workers": 2}""")
    {
        var plan = await Ask(limits);
        Plan = (string)plan["id"]!;
        await FirstRain.ExpectStatus(204, Lead.Post($"{Address}/plans/{plan["id"]}/publish", "{}", ("If-Match", await ETag())));
        Work =
        [
            .. from night in plan["plan"]!["nights"]!.AsArray()
                from work in night!["work"]!.AsArray()
                where work!["task"] is not null
                select ((string)work["task"]!, (string)night["night"]!),
        ];
    }

    /// <summary>The version of the week, which decisions name.</summary>
    public async Task<string> ETag() => (await FirstRain.ExpectStatus(200, Lead.Get(Address))).ETag!;

    /// <summary>A page in a context of its own, in which a person of the store has signed in by a link.</summary>
    public Task<Visit> SignedIn(string person, Role role = Role.Crew) => site.SignedIn(Chain, person, role, Store);

    private async Task<JsonNode> Settled(string location)
    {
        for (var attempt = 0; attempt < 2400; attempt++)
        {
            var plan = (await FirstRain.ExpectStatus(200, Lead.Get(location))).Json;
            if ((string?)plan["state"] is not ("queued" or "solving")) return plan;
            await Task.Delay(50);
        }
        throw new TimeoutException($"{location} is still not settled.");
    }

    /// <summary>The path of a file of the repository.</summary>
    public static string InRepository(params string[] place) => Path.Combine([Root(AppContext.BaseDirectory), .. place]);

    private static string Scenario(string file) => File.ReadAllText(InRepository("ops", "scenario", $"{file}.json"));

    private static string Root(string folder) => File.Exists(Path.Combine(folder, "SetWeek.sln")) ? folder
        : Root(Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("SetWeek.sln is in no folder above the tests."));
}
