using System.Text.RegularExpressions;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using Microsoft.Playwright;
using SetWeek.Browser.Tests.Pages;
using SetWeek.Service.Access;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Pages;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Forms;

/// <summary>
/// What a program can change, a person can change in a browser. The forms are those of every page that <see cref="PageState"/>
/// lists, and of pages in the states that are made here.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed partial class EveryCommandTests(Site site)
{
    /// <summary>Operations that no form sends, with the reason.</summary>
    private static readonly Dictionary<string, string> Without = new()
    {
        ["addPhoto"] = "A program sends a photograph first. A form sends it together with its report.",
        ["openSession"] = "The button of a sign-in link sends to the address of its page, which the form does not repeat.",
    };

    /// <summary>Why a person gives no limit of a search but its seconds, and none where several searches begin.</summary>
    private const string Limit = "A person says for how many seconds at most; other limits are for programs that compare searches.";

    /// <summary>
    /// Members of bodies that no form fills in, with the reason: "operation: member", or the operation alone for all of them, or the
    /// member alone for all bodies.
    /// </summary>
    private static readonly Dictionary<string, string> WithoutField = new()
    {
        ["corrects"] = "On a page a report is taken back and made anew (docs/decisions/reports.md).",
        ["effort"] = Limit, ["seed"] = Limit, ["workers"] = Limit,
        ["acceptChanges: plan/chancePercent"] = "The chance is chosen where it is priced, on the page about certainty.",
        ["acceptRepair: chancePercent"] = "The chance is chosen where it is priced, on the page about certainty.",
        ["requestPlan: chancePercent"] = "The chance is chosen where it is priced, on the page about certainty.",
        ["acceptRepair: seconds"] = Limit,
        ["delayKits: seconds"] = Limit,
        ["delayKits: kits"] = "A page names one kit; a lorry of several is a second form.",
        ["acceptSnag: photos"] = "A photograph shows the snag, or that it is put right.",
        ["handOnSnag: photos"] = "A photograph shows the snag, or that it is put right.",
        ["askQuestion: stint"] = "A question on a page is about a task, or about what blocks it.",
        ["closeNight: answers/millimetres"] = "Nothing is measured at the closing.",
        ["joinCrew: commitments"] = "They are entered on the page of the person, once there is one.",
        ["openWeek: pins"] = "Work is held in place once there is a plan to hold it in.",
        ["raiseSnag: display"] = "A page names the zone, and the piece of work where it begins at one.",
        ["takeReports"] = "A page records starts and finishes together; every other report has a form of its own.",
        ["unsettleLine: why"] = "It is one button; what was settled stays in the history with its reason.",
    };

    /// <summary>The names of all fields, by the operation that their forms send.</summary>
    private readonly Dictionary<string, HashSet<string>> sent = [];
    private IReadOnlyList<(string Id, string Method, Regex Path)>? changing;

    /// <summary>What a form can send. Of addresses that two operations match, the one with more words of its own stands first.</summary>
    private IReadOnlyList<(string Id, string Method, Regex Path)> Changing => changing ??=
    [
        .. site.Operations.Where(operation => operation.Method != "GET")
            .OrderBy(operation => operation.Path.Count(letter => letter == '{'))
            .Select(operation => (operation.Id, operation.Method,
                new Regex($"^{Regex.Replace(Regex.Escape(operation.Path), @"\\\{\w+}", "[^/]+")}$"))),
    ];

    [BrowserFact]
    public async Task Every_command_has_a_form_on_a_page()
    {
        foreach (var reader in PageState.All.Where(state => state.Status == 200 && state.Role is not null)
            .GroupBy(state => (state.Week, state.Role, state.Person)))
        {
            await using var visit = await site.Open();
            await reader.First().SignInUnseen(site, visit);
            foreach (var state in reader) Keep(await state.Read(site, visit));
        }
        await OfEveryPiece();
        await OfAWeekWithoutAPlan();
        await OfAPublishedWeek();
        await OfAFinishedWeek();
        await OfAPhone();
        Assert.InRange(Changing.Count, 80, int.MaxValue);
        var wrong = Changing.Select(operation => operation.Id).Where(id => sent.ContainsKey(id) == Without.ContainsKey(id));
        Assert.Equal([], wrong.Order(StringComparer.Ordinal));
        var fields = Fields();
        Assert.Equal([], fields.Unknown);
        Assert.True(WithoutField.Keys.ToHashSet().SetEquals(fields.Missing),
            string.Join('\n', fields.Missing.Except(WithoutField.Keys).Concat(WithoutField.Keys.Except(fields.Missing)).Order()));
    }

    [BrowserFact]
    public Task A_form_is_known_by_its_method_and_its_address()
    {
        Keep("""
            <form method="post" action="/weeks/a.b/nights/monday?form-method=delete"><button>Drop</button></form>
            <form class="acts" action="/weeks/a.b/reports/r.1/retracted" method="post"></form>
            <form method="get" action="/stores"></form>
            """);
        Assert.Equal(["dropNight", "retractReport"], sent.Keys.Order(StringComparer.Ordinal));
        Assert.Throws<InvalidOperationException>(() => Keep("""<form method="post" action="/weeks/a.b/nothing"></form>"""));
        return Task.CompletedTask;
    }

    /// <summary>
    /// The fields that are no member of the body that their form sends, and the members that no field fills in. A document, such as a
    /// direction, is one field.
    /// </summary>
    private (IReadOnlyList<string> Unknown, IReadOnlyList<string> Missing) Fields()
    {
        var (unknown, missing) = (new List<string>(), new HashSet<string>());
        var description = ApiDescription.Of(site.Operations);
        foreach (var operation in site.Operations.Where(operation => sent.ContainsKey(operation.Id)))
        {
            var members = BodyMembers.Of(description, operation.Method, operation.Path);
            var own = sent[operation.Id].Where(field => !field.StartsWith(':')).ToList();
            unknown.AddRange(own.Where(field => BodyMembers.Of(field, members) is null).Select(field => $"{operation.Id}: {field}"));
            if (sent[operation.Id].Contains(FormFields.Body)) continue;
            missing.UnionWith(BodyMembers.Missing(members, own.Select(field => BodyMembers.Of(field, members)).OfType<string>()
                .ToHashSet()).Select(member => ReasonOf(operation.Id, member)));
        }
        return (unknown, [.. missing]);

        static string ReasonOf(string operation, string member) => new[] { operation, member, member.Split('/')[^1] }
            .FirstOrDefault(WithoutField.ContainsKey) ?? $"{operation}: {member}";
    }

    /// <summary>Gates, checks and clean-downs of a night, and a question about what blocks a piece.</summary>
    private async Task OfEveryPiece()
    {
        var (week, worked) = (await site.HarbourStreet, await site.WorkedNight);
        week.MoveTo(week.Time);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var night = $"{week.Address}/nights/night-1";
        foreach (var piece in (await FirstRain.ExpectStatus(200, week.Lead.Get($"{night}/sheet"))).Json["pieces"]!.AsArray())
            foreach (var act in new[] { "start", "finish" })
                Keep(await lead.Read($"{night}/pieces/{piece!["number"]}?act={act}"));
        worked.MoveTo(worked.Time);
        await using var other = await worked.SignedIn("lena", Role.Lead);
        var sheet = new HtmlParser().ParseDocument(await other.Read($"{worked.Address}/nights/night-1/sheet"));
        Keep(await other.Read(sheet.QuerySelector("a[href*='questions?task=']")!.GetAttribute("href")!));
    }

    /// <summary>A search in progress, no plan, and tried changes with which there is one.</summary>
    private async Task OfAWeekWithoutAPlan()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction, Samples.Store(),
            FirstRain.Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null", StringComparison.Ordinal));
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await using (await site.HoldSearches())
            Keep(await lead.Read((await FirstRain.ExpectStatus(202, week.Lead.Post($"{week.Address}/plans", "{}"))).Location!));
        Keep(await lead.Read($"{week.Address}/plans/{(await week.Ask())["id"]}"));
        await lead.Page.GotoAsync($"{week.Address}/what-if?was=[]&kind=kit&kit=forms&eta=2027-03-08T12:00");
        await lead.Page.GetByRole(AriaRole.Button, new() { Name = "Try these changes" }).ClickAsync();
        await lead.Page.GetByText("With these changes there is a plan").WaitForAsync();
        Keep(await lead.Page.ContentAsync());
    }

    /// <summary>A proposed plan, people who are told or absent, what is held, a newer direction, a memo and a late kit.</summary>
    private async Task OfAPublishedWeek()
    {
        var week = await StoreWeek.Small(site);
        var office = site.As(week.Chain, "head", Role.HeadOffice);
        var told = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/told"))).Json["people"]![0]!["person"];
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/told",
            $$"""{"people": ["{{told}}"], "how": "called"}"""));
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/crew/p3/absent", """{"night": "wednesday"}"""));
        await FirstRain.ExpectStatus(201, week.Lead.Post($"{week.Address}/crew/p1/calendar", ""));
        await FirstRain.ExpectStatus(201, week.Lead.Post($"{week.Address}/pins",
            """{"person": "p3", "night": "monday", "off": true}""", ("If-Match", await week.ETag())));
        await FirstRain.ExpectStatus(204, office.Put("/directions/first-rain",
            FirstRain.Direction.Replace("Painted wall", "Stencilled wall", StringComparison.Ordinal), ("If-Match", "\"1\"")));
        var memo = await FirstRain.ExpectStatus(201, office.Post("/memos",
            """{"direction": "first-rain", "text": "The second lorry brings spare skirting."}"""));
        var plan = await week.Ask();
        await using var lead = await week.SignedIn("lena", Role.Lead);
        foreach (var place in new[] { $"plans/{plan["id"]}", "told", "facts/crew/p3", "facts/pins", "facts", "crew" })
            Keep(await lead.Read($"{week.Address}/{place}"));
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        Keep(await head.Read($"/memos/{memo.Json["id"]}"));
        await using (await site.HoldSearches())
            Keep(await head.Read((await FirstRain.ExpectStatus(202, office.Post("/kit-delays",
                """{"direction": "first-rain", "kit": "forms", "eta": "2027-03-10T12:00"}"""))).Location!));
    }

    /// <summary>A week that can be handed over, and one that is.</summary>
    private async Task OfAFinishedWeek()
    {
        var week = await FinishedWeek.Of(site);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var handOver = $"{week.Address}/hand-over";
        Keep(await lead.Read(handOver));
        await FirstRain.ExpectStatus(204, week.Lead.Post(handOver, """{"name": "Hester Vane, runs the store"}""",
            ("If-Match", await week.ETag())));
        Keep(await lead.Read(handOver));
    }

    /// <summary>An enrolled phone, on which one person has a PIN and another may choose one.</summary>
    private async Task OfAPhone()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await site.Open();
        Keep(await phone.Read("/phone"));
        await week.Enrol(phone.Page);
        week.MoveTo("2027-03-08T21:00");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"/stores/{week.Store}/pin-permissions", """{"person": "p1"}"""));
        Keep(await phone.Read("/phone"));
        await phone.Page.GotoAsync("/phone");
        await phone.Page.GetByLabel("of Asha Rowan").FillAsync("4821");
        await phone.Page.GetByRole(AriaRole.Button, new() { Name = "Set the PIN of Asha Rowan" }).ClickAsync();
        await phone.Page.GetByText("Go on as Asha Rowan").WaitForAsync();
        Keep(await phone.Page.ContentAsync());
        await using var lead = await week.SignedIn("lena", Role.Lead);
        Keep(await lead.Read($"/stores/{week.Store}/phones"));
    }

    /// <summary>Keeps which operations the forms of a page send, and their fields. A form that sends none is a fault.</summary>
    private void Keep(string page)
    {
        foreach (var form in new HtmlParser().ParseDocument(page).Forms.OfType<IHtmlFormElement>())
        {
            if (form.Method != "post" || form.GetAttribute("action") is not { } action) continue; // the page's own address
            var parts = action.Split('?');
            var method = parts.Length > 1 && Method().Match(parts[1]) is { Success: true } named
                ? named.Groups[1].Value.ToUpperInvariant() : "POST";
            var id = Changing.FirstOrDefault(operation => operation.Method == method && operation.Path.IsMatch(parts[0])).Id
                ?? throw new InvalidOperationException($"No operation is sent by {form.OuterHtml}");
            if (!sent.TryGetValue(id, out var fields)) sent[id] = fields = [];
            fields.UnionWith(form.Elements.Select(element => element.GetAttribute("name")).OfType<string>());
        }
    }

    [GeneratedRegex("(?:^|&)form-method=(\\w+)")]
    private static partial Regex Method();
}
