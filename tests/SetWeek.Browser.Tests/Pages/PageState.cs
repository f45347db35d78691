using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Service.Access;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// A page in one of its states, of the demo's week at Harbour Street in its first night, before or after reports. A new page
/// joins by a line.
/// </summary>
/// <param name="Name">The page, and its state unless that is the usual one.</param>
/// <param name="Role">Who reads it; null: nobody is signed in.</param>
/// <param name="Address">
/// Where it is; "{week}" is the address of the week, "{piece:paused}" that of a piece below it, "{person:paused}" one of its people.
/// </param>
/// <param name="IsPhone">Whether it is for a phone first, so that its targets are larger.</param>
public sealed partial record PageState(string Name, Role? Role, string Address, bool IsPhone = false)
{
    /// <summary>The week whose page it is.</summary>
    public Func<Site, Task<StoreWeek>> Week { get; init; } = site => site.HarbourStreet;

    /// <summary>What leads to the state once the page is open.</summary>
    public Func<IPage, Task>? Reach { get; init; }

    /// <summary>Who is signed in as crew; a person's id, or "{person:paused}" for one who works on a piece.</summary>
    public string Person { get; init; } = "maud";

    /// <summary>Whether crews open it on phones too, though it is laid out for a desk: its targets are larger there.</summary>
    public bool IsReadOnPhones { get; init; }

    /// <summary>The status of its answer. A browser writes any other than 200 to its console.</summary>
    public int Status { get; init; } = 200;

    /// <summary>The status of the answer to a form that the state is reached by; 200 if it is accepted, or none is sent.</summary>
    public int Refusal { get; init; } = 200;

    public override string ToString() => Name;

    public static IReadOnlyList<PageState> All { get; } =
    [
        new("start, nobody signed in", null, "/"),
        new("start", Service.Access.Role.Lead, "/"),
        new("sign-in link", null, "{link}"),
        new("phone, not enrolled", null, "/phone", IsPhone: true),
        new("phone, a wrong code", null, "/phone", IsPhone: true)
        {
            Reach = async page =>
            {
                await page.GetByLabel("Code").FillAsync("K7QM-4RXT");
                await page.GetByRole(AriaRole.Button, new() { Name = "Enrol this phone" }).ClickAsync();
                await page.GetByText("Nothing has been kept yet.").WaitForAsync();
            },
            Refusal = 403,
        },
        new("no connection", null, "/offline"),
        new("week", Service.Access.Role.Lead, "{week}/plan"),
        new("week, chart by place", Service.Access.Role.Lead, "{week}/plan") { Reach = page => page.Locator(".l-zone").First.ClickAsync() },
        new("week for the crew", Service.Access.Role.Crew, "{week}/plan"),
        new("sheet of a night", Service.Access.Role.Lead, "{week}/nights/night-1/sheet") { IsReadOnPhones = true },
        new("sheet of a person", Service.Access.Role.Crew, "{week}/nights/night-1/sheet?person=maud", IsPhone: true),
        new("sheet of a night, under way", Service.Access.Role.Lead, "{week}/nights/night-1/sheet")
            { Week = Worked, IsReadOnPhones = true },
        new("sheet of a person, running", Service.Access.Role.Crew, "{week}/nights/night-1/sheet?person={person:running}", IsPhone: true)
            { Week = Worked, Person = "{person:running}" },
        new("sheet of a person, blocked", Service.Access.Role.Crew, "{week}/nights/night-1/sheet?person={person:blocked}", IsPhone: true)
            { Week = Worked, Person = "{person:blocked}" },
        new("sheet of a person, done", Service.Access.Role.Lead, "{week}/nights/night-1/sheet?person={person:done}", IsPhone: true)
            { Week = Worked },
        new("sheet of a person, nothing planned", Service.Access.Role.Crew, "{week}/nights/night-1/sheet?person=safiya", IsPhone: true)
            { Week = Worked, Person = "safiya" },
        new("not safe, without a piece", Service.Access.Role.Crew, "{week}/nights/night-1/sheet?view=not-safe", IsPhone: true)
            { Week = Worked, Person = "safiya" },
        new("several pieces recorded", Service.Access.Role.Lead, "{week}/nights/night-1/sheet?view=record")
            { IsReadOnPhones = true },
        new("piece, start", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=start", IsPhone: true),
        new("piece, finish", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=finish", IsPhone: true),
        new("piece, longer", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101/longer", IsPhone: true),
        new("piece, interrupted", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=paused", IsPhone: true),
        new("piece, more time", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=progress", IsPhone: true),
        new("piece, blocked", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=blocked", IsPhone: true),
        new("piece, not safe", Service.Access.Role.Lead, "{week}/nights/night-1/pieces/101?act=not-safe", IsPhone: true),
        new("piece, running: finish", Service.Access.Role.Crew, "{week}/{piece:running}?act=finish", IsPhone: true)
            { Week = Worked, Person = "{person:running}" },
        new("piece, running: interrupted", Service.Access.Role.Lead, "{week}/{piece:running}?act=paused", IsPhone: true)
            { Week = Worked },
        new("piece, a check is not good", Service.Access.Role.Lead, "{week}/{piece:running}?act=finish", IsPhone: true)
            { Week = Worked, Reach = page => page.GetByLabel("Not good").First.CheckAsync() },
        new("piece, a check does not apply", Service.Access.Role.Lead, "{week}/{piece:running}?act=finish", IsPhone: true)
            { Week = Worked, Reach = page => page.GetByLabel("Does not apply").First.CheckAsync() },
        new("piece, running: longer", Service.Access.Role.Lead, "{week}/{piece:running}/longer?minutes=30", IsPhone: true)
            { Week = Worked },
        new("piece, a check was not good", Service.Access.Role.Lead, "{week}/{piece:not good}", IsPhone: true) { Week = Worked },
        new("piece, paused", Service.Access.Role.Lead, "{week}/{piece:paused}?act=finish", IsPhone: true) { Week = Worked },
        new("piece, paused: it goes on", Service.Access.Role.Lead, "{week}/{piece:paused}?act=resumed", IsPhone: true) { Week = Worked },
        new("piece, done: opened again", Service.Access.Role.Lead, "{week}/{piece:done}?act=reopened", IsPhone: true) { Week = Worked },
        new("piece, is blocked", Service.Access.Role.Lead, "{week}/{piece:blocked}", IsPhone: true) { Week = Worked },
        new("piece, is blocked: blocked once more", Service.Access.Role.Lead, "{week}/{piece:blocked}?act=blocked", IsPhone: true)
            { Week = Worked },
        new("piece, done", Service.Access.Role.Lead, "{week}/{piece:done}", IsPhone: true) { Week = Worked },
        new("piece, done: nobody has signed", Service.Access.Role.Lead, "{week}/{piece:unsigned}?act=finish", IsPhone: true)
            { Week = Worked },
        new("piece, opened again", Service.Access.Role.Lead, "{week}/{piece:again}?act=start", IsPhone: true) { Week = Worked },
        new("piece, stopped", Service.Access.Role.Lead, "{week}/{piece:stopped}?act=start", IsPhone: true) { Week = Worked },
        new("piece, the air where paint dries", Service.Access.Role.Lead, "{week}/{piece:paint}?act=finish", IsPhone: true)
            { Week = Worked },
        new("piece of somebody else", Service.Access.Role.Crew, "{week}/{piece:running}", IsPhone: true)
            { Week = Worked, Person = "safiya" },
        new("display shown, for the lead", Service.Access.Role.Lead, "{week}/displays/canopy/shown", IsPhone: true),
        new("display shown", Service.Access.Role.Crew, "{week}/displays/canopy/shown", IsPhone: true),
        new("opening of a night", Service.Access.Role.Lead, "{week}/nights/night-1/opening", IsPhone: true),
        new("opening for the crew", Service.Access.Role.Crew, "{week}/nights/night-1/opening", IsPhone: true),
        new("opening of a night that is opened", Service.Access.Role.Lead, "{week}/nights/night-1/opening", IsPhone: true)
            { Week = Worked },
        new("opening of an opened night for the crew", Service.Access.Role.Crew, "{week}/nights/night-1/opening", IsPhone: true)
            { Week = Worked },
        new("closing of a night that is not opened", Service.Access.Role.Lead, "{week}/nights/night-1/closing", IsPhone: true),
        new("closing of a night", Service.Access.Role.Lead, "{week}/nights/night-1/closing", IsPhone: true) { Week = Worked },
        new("closing for the crew", Service.Access.Role.Crew, "{week}/nights/night-1/closing", IsPhone: true) { Week = Worked },
        new("walk-through", Service.Access.Role.Lead, "{week}/walk-through", IsPhone: true),
        new("walk-through, every link open", Service.Access.Role.Lead, "{week}/walk-through", IsPhone: true)
            { Reach = page => page.Locator("nav summary").ClickAsync() },
        new("walk-through of an area", Service.Access.Role.Crew, "{week}/walk-through?area=show-window", IsPhone: true),
        new("walk-through of an area that is looked at", Service.Access.Role.Lead, "{week}/walk-through?area=entrance", IsPhone: true)
        {
            Week = Worked, Reach = page => page.GetByLabel("Not good").First.CheckAsync(),
        },
        new("walk-through for head office", Service.Access.Role.HeadOffice, "{week}/walk-through?area=entrance", IsPhone: true)
            { Week = Worked },
        new("hand-over", Service.Access.Role.Lead, "{week}/hand-over"),
        new("hand-over, hindered", Service.Access.Role.Lead, "{week}/hand-over") { Week = Worked },
        new("why", Service.Access.Role.Lead, "{why}"),
        new("told", Service.Access.Role.Lead, "{week}/told") { Reach = page => page.Locator("main summary").First.ClickAsync() },
        new("told, the counts alone", Service.Access.Role.HeadOffice, "{week}/told"),
        new("what changes for a person", Service.Access.Role.Crew, "{week}/told/maud", IsPhone: true),
        new("changes of the first plan", Service.Access.Role.Lead, "{week}/plans/{plan}/changes"),
        new("crew", Service.Access.Role.Lead, "{week}/crew") { Reach = page => page.Locator("main summary").First.ClickAsync() },
        new("a calendar link", Service.Access.Role.Lead, "{week}/crew")
        {
            Week = Worked,
            Reach = async page =>
            {
                await page.GetByText("Calendar link, erasure of Maud Ferrier").ClickAsync();
                await page.GetByRole(AriaRole.Button, new() { NameRegex = new("calendar link for Maud Ferrier$") }).First.ClickAsync();
                await page.GetByText("This address is shown once.").WaitForAsync();
            },
        },
        new("store", Service.Access.Role.Lead, "/stores/harbour-street"),
        new("open a week: what it follows from", Service.Access.Role.Lead, "/stores/harbour-street/new-week"),
        new("open a week: the form", Service.Access.Role.Lead, "/stores/harbour-street/new-week?direction=first-rain"
            + "&launch=2027-04-10T09:00&nights=3&opens=21:30&closes=02:00&rules=last&rules=great-britain"),
        new("open a store", Service.Access.Role.HeadOffice, "/new-store"),
        new("phones", Service.Access.Role.Lead, "/stores/harbour-street/phones"),
        new("a code for a phone", Service.Access.Role.Lead, "/stores/harbour-street/phones")
        {
            Reach = page => page.Leave(() => page.GetByRole(AriaRole.Button, new() { Name = "Make a code" }).ClickAsync()),
        },
        new("risk", Service.Access.Role.Lead, "{week}/plan/risk"),
        new("stores", Service.Access.Role.HeadOffice, "/stores"),
        new("stores of a region", Service.Access.Role.Region, "/stores?show=rest"),
        new("stores in a night", Service.Access.Role.HeadOffice, "/stores") { Week = Worked },
        new("questions", Service.Access.Role.HeadOffice, "/questions"),
        new("questions, answered", Service.Access.Role.HeadOffice, "/questions?state=answered")
            { Week = Worked, Reach = page => page.GetByText("Correct the answer").First.ClickAsync() },
        new("questions, one answer for several", Service.Access.Role.HeadOffice, "/questions")
        {
            Reach = async page =>
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Answer those that are ticked" }).ClickAsync();
                await page.GetByText("Nothing has been kept yet.").WaitForAsync();
            },
            Refusal = 400,
        },
        new("snags of the chain", Service.Access.Role.HeadOffice, "/snags"),
        new("snags of a region, put right", Service.Access.Role.Region, "/snags?state=fixed"),
        new("memos", Service.Access.Role.HeadOffice, "/memos"),
        new("memos, one is refused", Service.Access.Role.HeadOffice, "/memos")
        {
            Reach = async page =>
            {
                await page.GetByLabel("What they are to know").EvaluateAsync("field => field.required = false");
                await page.GetByRole(AriaRole.Button, new() { Name = "Send it to the stores" }).ClickAsync();
                await page.GetByText("Nothing has been kept yet.").WaitForAsync();
            },
            Refusal = 400,
        },
        new("memo", Service.Access.Role.HeadOffice, "/memos")
        {
            Reach = page => page.Leave(() => page.GetByRole(AriaRole.Link, new() { NameRegex = new("^Read in") }).First.ClickAsync()),
        },
        new("memos, some stores", Service.Access.Role.HeadOffice, "/memos?direction=first-rain"),
        new("memos, a store is asked", Service.Access.Role.HeadOffice, "/memos?direction=first-rain&to=harbour-street"),
        new("late kits", Service.Access.Role.HeadOffice, "/kit-delays"),
        new("late kits, one is refused", Service.Access.Role.HeadOffice, "/kit-delays")
        {
            Reach = async page =>
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "It is late" }).ClickAsync();
                await page.GetByText("Nothing has been kept yet.").WaitForAsync();
            },
            Refusal = 400,
        },
        new("memos of a week", Service.Access.Role.Crew, "{week}/memos") { IsReadOnPhones = true },
        new("questions of a week", Service.Access.Role.Lead, "{week}/questions") { IsReadOnPhones = true },
        new("questions of a week, answered", Service.Access.Role.Crew, "{week}/questions")
            { Week = Worked, IsReadOnPhones = true },
        new("directions", Service.Access.Role.HeadOffice, "/directions"),
        new("direction", Service.Access.Role.Crew, "/directions/first-rain"),
        new("direction for head office", Service.Access.Role.HeadOffice, "/directions/first-rain"),
        new("display of a direction", Service.Access.Role.Crew, "/directions/first-rain?display=canopy"),
        new("feed", Service.Access.Role.Engineer, "/feed"),
        new("followers", Service.Access.Role.Engineer, "/followers"),
        new("webhooks", Service.Access.Role.Engineer, "/webhooks"),
        new("webhooks for head office", Service.Access.Role.HeadOffice, "/webhooks"),
        new("webhooks, one accepts nothing", Service.Access.Role.HeadOffice, "/webhooks") { Week = Worked },
        new("dead letters", Service.Access.Role.HeadOffice, "/webhooks/board/dead-letters") { Week = Worked },
        new("snags", Service.Access.Role.Crew, "{week}/snags") { IsReadOnPhones = true },
        new("snags for head office", Service.Access.Role.HeadOffice, "{week}/snags") { IsReadOnPhones = true },
        new("snag of the crew", Service.Access.Role.Crew, "{week}/snags/1") { IsReadOnPhones = true },
        new("snag of the lead", Service.Access.Role.Lead, "{week}/snags/2") { IsReadOnPhones = true },
        new("snag that the lead may accept", Service.Access.Role.Lead, "{week}/snags/1") { IsReadOnPhones = true },
        new("snag, put right", Service.Access.Role.Lead, "{week}/snags/1") { Week = Worked, IsReadOnPhones = true },
        new("snags, some put right", Service.Access.Role.Lead, "{week}/snags") { Week = Worked, IsReadOnPhones = true },
        new("snag, new", Service.Access.Role.Crew, "{week}/snags/new", IsPhone: true),
        new("snag of a piece, new", Service.Access.Role.Crew, "{week}/snags/new?piece=101", IsPhone: true),
        new("kits", Service.Access.Role.Crew, "{week}/kits") { IsReadOnPhones = true },
        new("count-in", Service.Access.Role.Crew, "{week}/kits/props", IsPhone: true),
        new("count-in for the region", Service.Access.Role.Region, "{week}/kits/props", IsPhone: true),
        new("kits, counted short", Service.Access.Role.Lead, "{week}/kits") { Week = Worked, IsReadOnPhones = true },
        new("kit, counted short", Service.Access.Role.Lead, "{week}/kits/paint", IsPhone: true) { Week = Worked },
        new("kit, counted short, for the crew", Service.Access.Role.Crew, "{week}/kits/paint", IsPhone: true) { Week = Worked },
        new("kit, settled", Service.Access.Role.Lead, "{week}/kits/fixtures", IsPhone: true) { Week = Worked },
        new("what a night entered", Service.Access.Role.Lead, "{week}/history") { Week = Worked, IsReadOnPhones = true },
        new("photographs", Service.Access.Role.Lead, "{week}/photos"),
        new("what was entered", Service.Access.Role.Lead, "{week}/history")
            { IsReadOnPhones = true, Reach = page => page.Locator("main summary").First.ClickAsync() },
        new("hours", Service.Access.Role.Lead, "{week}/hours"),
        new("facts", Service.Access.Role.Lead, "{week}/facts"),
        new("facts: a person", Service.Access.Role.Lead, "{week}/facts/crew/maud"),
        new("facts: somebody joins", Service.Access.Role.Lead, "{week}/facts/crew"),
        new("facts: a night", Service.Access.Role.Lead, "{week}/facts/nights/night-2"),
        new("facts: a night, refused", Service.Access.Role.Lead, "{week}/facts/nights/night-2")
        {
            Reach = async page =>
            {
                await page.GetByLabel("Work that is").Last.FillAsync("noisy");
                await page.GetByRole(AriaRole.Button, new() { Name = "Keep these times" }).ClickAsync();
                await page.GetByText("Nothing has been kept yet.").WaitForAsync();
            },
            Refusal = 400,
        },
        new("facts: a kit", Service.Access.Role.Lead, "{week}/facts/kits/props"),
        new("facts: the store", Service.Access.Role.Lead, "{week}/facts/store"),
        new("facts: equipment is added", Service.Access.Role.Lead, "{week}/facts/store?equipment=drill"),
        new("facts: a zone", Service.Access.Role.Lead, "{week}/facts/zones/show-window"),
        new("facts: a zone is added", Service.Access.Role.Lead, "{week}/facts/zones"),
        new("facts: a task", Service.Access.Role.Lead, "{week}/facts/tasks/ready.tools"),
        new("facts: a display", Service.Access.Role.Lead, "{week}/facts/displays/ready"),
        new("facts: a display is added", Service.Access.Role.Lead, "{week}/facts/displays"),
        new("facts: a task is added", Service.Access.Role.Lead, "{week}/facts/tasks"),
        new("facts: rules", Service.Access.Role.Lead, "{week}/facts/rules"),
        new("facts: goals", Service.Access.Role.Lead, "{week}/facts/goals"),
        new("facts: held in place", Service.Access.Role.Lead, "{week}/facts/pins"),
        new("facts for head office", Service.Access.Role.HeadOffice, "{week}/facts"),
        new("what-if", Service.Access.Role.Lead, "{week}/what-if?was=[]&kind=kit&kit=props&eta=2027-03-10T16:00")
            { Reach = page => page.GetByText("A display is left out").First.ClickAsync() },
        new("what certainty costs", Service.Access.Role.Lead, "{week}/certainty"),
        new("what certainty costs, answered", Service.Access.Role.Lead, "{week}/certainty")
        {
            Reach = async page =>
            {
                await page.GetByLabel("Look for how many seconds?").FillAsync("4");
                await page.GetByRole(AriaRole.Button, new() { Name = "Plan for several chances" }).ClickAsync();
                await page.GetByText("Look again").WaitForAsync();
            },
        },
        new("refusal: nothing there", Service.Access.Role.Lead, "/weeks/none/plan") { Status = 404 },
        new("refusal: nobody signed in", null, "{week}/plan") { Status = 401 },
        new("refusal: for others", Service.Access.Role.Crew, "{why}") { Status = 403 },
        new("a fault of the service", Service.Access.Role.Lead, "/fault") { Status = 500, Reach = PlanHolds },
        new("the database does not answer", Service.Access.Role.Crew, "/outage") { Status = 503, Reach = PlanHolds },
    ];

    private static Task<StoreWeek> Worked(Site site) => site.WorkedNight;

    private static Task PlanHolds(IPage page) => page.GetByText("The published plan holds").WaitForAsync();

    /// <summary>Opens it in a browser context of its own.</summary>
    public async Task<Visit> Open(Site site)
    {
        var week = await Week(site);
        var visit = await site.Open();
        if (Role is { } role) await visit.SignIn(week.Chain, PersonOf(week, role), role, week.Store);
        return visit;
    }

    /// <summary>Signs in whoever reads it, without loading a page.</summary>
    public async Task SignInUnseen(Site site, Visit visit)
    {
        var week = await Week(site);
        if (Role is { } role) await visit.SignInUnseen(week.Chain, PersonOf(week, role), role, week.Store);
    }

    private string PersonOf(StoreWeek week, Role role) => role == Service.Access.Role.Crew ? WithPieces(Person, week) : "lena";

    /// <summary>Goes to it at the week's time, and reaches its state.</summary>
    public async Task Show(Site site, Visit visit)
    {
        var answer = await visit.Page.GotoAsync(await AddressIn(site));
        Assert.Equal(Status, answer!.Status);
        if (Reach is not null) await Reach(visit.Page);
    }

    /// <summary>The HTML of its page at the week's time, before its state is reached.</summary>
    public async Task<string> Read(Site site, Visit visit) => await visit.Read(await AddressIn(site));

    private async Task<string> AddressIn(Site site)
    {
        var week = await Week(site);
        week.MoveTo(week.Time);
        return WithPieces(Address, week).Replace("{week}", week.Address)
            .Replace("{plan}", week.Plan)
            .Replace("{why}", $"{week.Address}/plan/why/{week.Work[0].Task}")
            .Replace("{link}", Address == "{link}" ? site.SignInLink(week.Chain, "lena", Service.Access.Role.Lead, week.Store) : "");
    }

    private static string WithPieces(string text, StoreWeek week) => PieceOrPerson().Replace(text, found =>
        week.Pieces[found.Groups[2].Value] is var piece && found.Groups[1].Value == "piece" ? piece.Address : piece.Person);

    [GeneratedRegex("{(piece|person):([^}]+)}")]
    private static partial Regex PieceOrPerson();
}
