using AngleSharp.Html.Parser;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Pages.Nights.PaintNight;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>
/// Each form of the floor that is refused is shown again, with what was typed: nobody ticks a night twice for one mistake.
/// </summary>
[Collection(ServiceCollection.Name)]
public sealed class FloorFormRefusalsTests(RunningService service)
{
    private const string Night = $"{Address}/nights/monday";

    private static readonly string Long = new('x', 2001), Painted = FirstRain.Direction
        .Replace("\"cautions\": [\"Air the room.\"]", "\"cautions\": [\"Air the room.\"], \"traits\": [\"paint\"]", StringComparison.Ordinal)
        .Replace("\"name\": \"Painted wall\", ", "\"name\": \"Painted wall\", \"mustBeShown\": true, ", StringComparison.Ordinal);

    /// <param name="Beside">The field beside which a fault stands; null if it stands before the form.</param>
    /// <param name="Filled">What is typed, chosen or ticked.</param>
    private sealed record Case(
        string Page, string Button, int Status, string? Beside, params IReadOnlyList<(string Name, string Value)> Filled);

    [Fact]
    public async Task The_forms_of_a_night_keep_what_was_typed()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, Painted);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        var piece = $"{Night}/pieces/{paint}";

        await IsShownAgain(lead, new($"{Night}/opening", "Open the night", 409, null,
            ("here:list", "p1"), ("said:list", "exits"), ("firstAider", "p1"), ("at:now", "19:58")));
        await ExpectStatus(204, week.Lead.Post($"{Night}/opening", """
            {"id": "o1", "at": "2027-03-08T20:00:00Z", "here": ["p1", "p2"], "firstAider": "p2", "said": ["exits", "first-aid"]}
            """));
        await IsShownAgain(lead, new($"{Night}/opening", "Is here now", 400, "at:now", ("person", "p3"), ("at:now", "soon")));
        await IsShownAgain(lead, new($"{Night}/opening", "Has left", 400, "at:now", ("person", "p2"), ("at:now", "soon")));
        await IsShownAgain(lead, new($"{Night}/closing", "Close the night", 409, null,
            ("answers[0].answer:row", "good"), ("shutZones:list", "window"), ("out:list", "p1"), ("at:now", "20:29")));

        await IsShownAgain(lead, new($"{Address}/displays/wall/shown", "Record that it was shown", 409, null, ("shownBy", "p2"),
            ("to:list", "p2")));
        await IsShownAgain(lead, new($"{piece}?act=start", "Sign and start", 409, null,
            ("gates[0].result", "notGood"), ("people:list", painter), ("at:now", "20:20")));
        await IsShownAgain(crew, new($"{piece}?act=blocked", "Blocked: tell the lead", 400, "until:time",
            ("reason", "not-dry"), ("note", "The <fan> stands still."), ("until:time", "late")));
        await IsShownAgain(crew, new($"{piece}?act=not-safe", "Stop the work", 400, "note", ("zone", ""), ("note", Long)));
        await IsShownAgain(crew, new($"{Night}/sheet?view=not-safe", "Stop the work", 400, "note", ("zone", "window"), ("note", Long)));
        await IsShownAgain(crew, new($"{piece}?act=finish", "Sign and finish", 400, "checks[0].why",
            ("checks[0].result", "doesNotApply"), ("air.degreesCelsius:number", "19"), ("air.moisturePercent:number", "55")));

        await ExpectStatus(204, week.Lead.Post($"{Address}/work/stopped",
            """{"id": "s1", "night": "monday", "zone": "window", "at": "2027-03-08T20:10:00Z"}"""));
        await IsShownAgain(lead, new($"{Night}/sheet", "It is safe again: lift the stop", 400, "why", ("why", Long)));
    }

    /// <summary>Of several pieces, the one that can be read is recorded; the other is mended in the same page.</summary>
    [Fact]
    public async Task Of_several_pieces_those_that_were_refused_keep_their_times()
    {
        var (chain, _, paint, _) = await OpenedWith(service, FirstRain.Direction);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        var (begun, ended) = ($"reports[{2 * paint}].at:row", $"reports[{2 * paint + 1}].at:row");
        var answer = await lead.PressButton(await Page(lead, $"{Night}/sheet?view=record"), "Record these times",
            (begun, "20:05"), (ended, "20:99"));
        Assert.Equal(409, answer.Status);
        var form = PageForm.With(answer.Text, "Record these times");
        Assert.DoesNotContain(begun, form.Names);
        Assert.Equal("20:99", Assert.Single(form.SentIn(ended)));
        Assert.Contains("Not everything has been kept.", answer.Text);
        IsBeside(answer.Text, ended);
    }

    [Fact]
    public async Task The_forms_of_work_kits_areas_snags_questions_and_of_those_to_be_told_keep_what_was_typed()
    {
        var (chain, week, paint, painter) = await OpenedWith(service, FirstRain.Direction);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        using var crew = await SignedIn(chain, painter, Role.Crew);
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", """
            {"id": "w1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:05:00Z"}
            """));
        await IsShownAgain(crew, new($"{Night}/pieces/{paint}?act=paused", "Interrupted: it waits", 400, "remainingMinutes:number",
            ("remainingMinutes:number", "0"), ("at:now", "20:20")));
        await IsShownAgain(crew, new($"{Night}/pieces/{paint}/longer?minutes=20", "Tell the lead: 20 more minutes", 400, "of:number",
            ("done:number", "4")));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/paused",
            """{"id": "w2", "task": "wall.paint", "at": "2027-03-08T20:10:00Z"}"""));
        await IsShownAgain(lead, new($"{Night}/pieces/{paint}?act=resumed", "Go on", 400, "at:now",
            ("people:list", painter), ("at:now", "soon")));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/finished",
            """{"id": "w3", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:15:00Z"}"""));
        await IsShownAgain(lead, new($"{Night}/pieces/{paint}?act=reopened", "Open it again", 400, "at:now",
            ("note", "A bare <spot>."), ("at:now", "soon")));
        await IsShownAgain(crew, new($"{Address}/kits/forms", "Sign the count", 400, "lines[0].damaged:row-number",
            ("lines[0].answer:row", "damaged"), ("lines[0].received:row-number", "3")));
        await IsShownAgain(crew, new($"{Address}/walk-through", "Show window is looked at", 400, "answers[1].why:row-text",
            ("answers[1].answer:row", "notGood"), ("with:list", "p3")));
        await IsShownAgain(crew, new($"{Address}/snags/new?zone=window", "Keep the snag", 400, "what",
            ("why", "It was so <before>"), ("owner", "trade"), ("trade", "Joiner"), ("due", "2027-03-12"), ("safety:boolean", "true")));
        await ExpectStatus(201, week.Lead.Post($"{Address}/snags", """
            {"id": "snag-1", "at": "2027-03-08T20:10:00Z", "what": "Skirting chipped", "zone": "window", "owner": "store",
             "due": "2027-03-12"}
            """));
        await IsShownAgain(crew, new($"{Address}/snags/1", "Put right", 400, "note", ("note", Long)));
        await IsShownAgain(lead, new($"{Address}/snags/1", "Hand it on", 400, "due", ("owner", "supplier"), ("due", "soon"), ("note", "Ask.")));
        await IsShownAgain(lead, new($"{Address}/snags/1", "Accept it as it is", 400, "note", ("note", Long)));
        await IsShownAgain(crew, new($"{Address}/questions", "Ask", 400, "text", ("for", "headOffice"), ("task", "wall.paint")));
        await IsShownAgain(crew, new($"{Address}/history", "Take it back", 400, "why", ("why", Long)), before: async () =>
            await ExpectStatus(204, chain.As(painter, Role.Crew, "harbour-street").Post($"{Night}/came",
                $$"""{"id": "c1", "person": "{{painter}}", "at": "2027-03-08T20:10:00Z"}""")));

        var told = (await ExpectStatus(200, week.Lead.Get($"{Address}/told"))).Json["people"]![1]!;
        var name = (string)told["name"]!;
        var page = await IsShownAgain(lead, new($"{Address}/told", $"I told {name}", 400, "at", ("how", "called"), ("at", "yesterday")));
        Assert.Equal(name, Assert.Single(new HtmlParser().ParseDocument(page).QuerySelectorAll("details[open]"))
            .ParentElement!.ParentElement!.QuerySelector("h3")!.TextContent.Trim()); // and nobody else's form is open
    }

    [Fact]
    public async Task The_forms_of_the_phones_of_a_store_keep_what_was_typed()
    {
        var (chain, _, _, _) = await OpenedWith(service, FirstRain.Direction);
        using var lead = await SignedIn(chain, "lena", Role.Lead);
        await IsShownAgain(lead, new("/stores/harbour-street/phones", "Make a code", 400, "name", ("name", new string('x', 61))));
        await IsShownAgain(lead, new("/stores/harbour-street/phones", "Allow a PIN, now", 400, null));
    }

    private static async Task<string> IsShownAgain(Browser browser, Case refused, Func<Task>? before = null)
    {
        if (before is not null) await before();
        var page = await Page(browser, refused.Page);
        EveryFormWithFieldsIsShownAgain(page);
        var answer = await browser.PressButton(page, refused.Button, refused.Filled);
        Assert.True((refused.Status, "text/html") == (answer.Status, answer.ContentType), $"{refused.Button}: {answer.Status} {answer.Text}");
        Assert.Contains("Nothing has been kept yet.", answer.Text);
        var form = PageForm.With(answer.Text, refused.Button);
        Assert.All(refused.Filled, field => Assert.Contains(field.Value, form.SentIn(field.Name)));
        if (refused.Beside is { } name) IsBeside(answer.Text, name);
        return answer.Text;
    }

    /// <summary>A fault stands before a field of that name, which points at it.</summary>
    private static void IsBeside(string page, string name)
    {
        var document = new HtmlParser().ParseDocument(page);
        var field = Assert.Single(document.QuerySelectorAll($"[name='{name}'][aria-invalid=true]"));
        Assert.NotEmpty(document.GetElementById(field.GetAttribute("aria-describedby")!)!.TextContent.Trim());
    }

    /// <summary>So a form that is added to one of these pages cannot be forgotten.</summary>
    private static void EveryFormWithFieldsIsShownAgain(string page) => Assert.All(
        new HtmlParser().ParseDocument(page).QuerySelectorAll("form[data-report]")
            .Where(form => form.QuerySelector("textarea, select, input:not([type=hidden])") is not null),
        form => Assert.True(form.QuerySelector("[name=':from']") is not null, form.GetAttribute("action")));
}
