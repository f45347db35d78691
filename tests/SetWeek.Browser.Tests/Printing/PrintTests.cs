using System.Text.Json.Nodes;
using Microsoft.Playwright;
using NodaTime.Text;
using SetWeek.Domain.Checks;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Printing;
using SetWeek.Service.Tests.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Browser.Tests.Printing;

/// <summary>
/// Pages on paper: what a screen folds is open, and what only a screen can use is not there. A printed page says what the sheet of
/// its role says: poppler reads both.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class PrintTests(Site site)
{
    [BrowserFact]
    public async Task A_printed_page_shows_the_steps_that_a_screen_folds()
    {
        var week = await site.HarbourStreet;
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await visit.Page.GotoAsync($"{week.Address}/nights/night-1/sheet");
        var folded = visit.Page.Locator("main details:not([open]) li");
        Assert.NotEqual(0, await folded.CountAsync());
        Assert.Equal(0, await Seen(folded));
        await visit.Page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Equal(await folded.CountAsync(), await Seen(folded));
        Assert.False(await visit.Page.Locator("nav").First.IsVisibleAsync());
        Assert.Empty(visit.Complaints);
    }

    [PrintedFact]
    public async Task The_page_of_a_night_says_what_the_leads_sheet_says()
    {
        var week = await site.HarbourStreet;
        var pieces = await PiecesOf(week);
        await AssertBothSay(week, "lead", ["nights/night-1/sheet"],
            pieces.SelectMany(piece => (string[])[Name(piece), (string)piece["zoneName"]!]));
        Assert.NotEmpty(pieces.SelectMany(GatesOf));
        await AssertBothSay(week, "crew", ["nights/night-1/sheet"], pieces.SelectMany(WorkOf).Concat(pieces.SelectMany(GatesOf)));
    }

    [PrintedFact]
    public async Task The_page_of_a_person_says_what_their_sheet_says()
    {
        var week = await site.HarbourStreet;
        var own = (await PiecesOf(week))
            .Where(piece => piece["people"]!.AsArray().Any(person => (string?)person!["person"] == "maud")).ToList();
        Assert.NotEmpty(own);
        await AssertBothSay(week, "crew", ["nights/night-1/sheet?person=maud"],
            own.SelectMany(WorkOf).Concat(own.SelectMany(GatesOf)), "?person=maud");
    }

    [PrintedFact]
    public async Task The_pages_of_opening_and_closing_say_what_the_keyholders_sheet_says()
    {
        var week = await site.HarbourStreet;
        var sheet = await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/nights/night-1/sheet"));
        await AssertBothSay(week, "keyholder", ["nights/night-1/opening", "nights/night-1/closing"],
            [.. sheet.Json["shifts"]!.AsArray().Select(shift => (string)shift!["name"]!),
                .. StandardChecks.All.Closing.Concat(StandardChecks.All.LockUp).Select(check => check.Sentence)]);
    }

    /// <summary>Wednesday is the night for which the props have come: nine cartons.</summary>
    [PrintedFact]
    public async Task The_pages_of_kits_say_what_the_receivers_sheet_says()
    {
        var week = await site.HarbourStreet;
        var kits = (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/kits"))).Json["kits"]!.AsArray();
        var direction = (await FirstRain.ExpectStatus(200, week.Lead.Get("/directions/first-rain"))).Json["kits"]!.AsArray();
        var cartons = direction.SelectMany(kit => kit!["cartons"]?.AsArray() ?? []).ToList();
        Assert.Equal(9, cartons.Count);
        await AssertBothSay(week, "receiver", kits.Select(kit => $"kits/{kit!["kit"]}"),
        [
            .. kits.SelectMany(kit => kit!["lines"]!.AsArray()).Select(line => ((string)line!["item"]!).Replace('-', ' ')),
            .. cartons.Select(carton => string.Join("; ", carton!["holds"]!.AsArray())),
        ], night: "night-4");
    }

    /// <summary>The usual checks of kinds of work stand beside the pieces of the night: they are signed there.</summary>
    [PrintedFact]
    public async Task The_pages_of_the_walk_through_and_the_night_say_what_the_reviewers_sheet_says()
    {
        var week = await site.HarbourStreet;
        var pieces = await PiecesOf(week);
        await AssertBothSay(week, "reviewer", ["walk-through", "nights/night-1/sheet"],
        [
            .. StandardChecks.All.WalkThrough.Select(check => check.Sentence),
            .. pieces.SelectMany(piece => piece["checks"]!.AsArray()).Select(check => (string)check!),
        ]);
    }

    /// <summary>
    /// The night of a coat. When each wall is dry stands on the page of the week, and the colours on that of the display.
    /// </summary>
    [PrintedFact]
    public async Task The_pages_of_a_night_the_week_and_a_display_say_what_the_painters_sheet_says()
    {
        var week = await site.HarbourStreet;
        var (direction, night) = (await Direction(week), week.Work.Single(work => work.Task == "wall.coat-one").Night);
        var wall = direction["displays"]!.AsArray().Single(display => (string?)display!["id"] == "feature-wall")!;
        var painted = wall["colours"]!.AsArray().SelectMany(colour => Texts(colour!["tasks"])).ToHashSet();
        var pieces = (await PiecesOf(week, night)).Where(piece => painted.Contains((string?)piece["task"] ?? "")).ToList();
        Assert.NotEmpty(pieces);
        var dry = pieces.Select(piece => OffsetDateTimePattern.Rfc3339.Parse((string)piece["to"]!).Value
            .PlusMinutes(Drying(direction, (string)piece["task"]!)).LocalDateTime).ToList();
        await AssertBothSay(week, "painter",
            [$"nights/{night}/sheet", $"plan?night={night}", "/directions/first-rain?display=feature-wall"],
        [
            .. pieces.SelectMany(WorkOf), .. LooksOf(wall), .. dry.Select(time => $"{time:HH:mm}"),
            .. wall["colours"]!.AsArray().Where(colour => Texts(colour!["tasks"]).Any(painter => pieces.Any(piece =>
                (string?)piece["task"] == painter))).Select(colour => (string)colour!["name"]!),
        ], night: night, onPages: dry.Select(time => $"dries until {time:HH:mm}"));

        static int Drying(JsonNode direction, string task) => direction["tasks"]!.AsArray()
            .SelectMany(other => other!["after"]?.AsArray() ?? []).Where(before => (string?)before!["task"] == task)
            .Max(before => (int?)before!["dryMinutes"] ?? 0);
    }

    /// <summary>The night in which the figures of the window are posed.</summary>
    [PrintedFact]
    public async Task The_pages_of_a_night_and_its_displays_say_what_the_dressers_sheets_say()
    {
        var week = await site.HarbourStreet;
        var night = week.Work.Single(work => work.Task == "canopy.pose").Night;
        var pieces = (await PiecesOf(week, night)).Where(piece => (string?)piece["task"] is { } task
            && (task.EndsWith(".dress", StringComparison.Ordinal) || task.EndsWith(".pose", StringComparison.Ordinal))).ToList();
        var displays = (await Direction(week))["displays"]!.AsArray().Select(display => display!).Where(display =>
            display["figures"]?.AsArray().Any(figure => Texts(figure!["tasks"]).Any(task =>
                pieces.Any(piece => (string?)piece["task"] == task))) == true).ToList();
        Assert.NotEmpty(displays);
        await AssertBothSay(week, "dresser",
            [$"nights/{night}/sheet", .. displays.Select(display => $"/directions/first-rain?display={display["id"]}")],
            [
                DressingSentences.Order, .. pieces.SelectMany(WorkOf), .. displays.SelectMany(LooksOf),
                .. displays.SelectMany(display => display["figures"]!.AsArray()).SelectMany(figure => (string?[])
                    [(string?)figure!["name"], string.Join("; ", Texts(figure["wears"])), (string?)figure["pose"],
                        (string?)figure["accessory"]]).OfType<string>(),
            ], night: night);
    }

    private static async Task<JsonNode> Direction(StoreWeek week) =>
        (await FirstRain.ExpectStatus(200, week.Lead.Get("/directions/first-rain"))).Json;

    private static IEnumerable<string> Texts(JsonNode? list) => list?.AsArray().Select(word => (string)word!) ?? [];

    /// <summary>What a display is, and its drawings in words.</summary>
    private static IEnumerable<string> LooksOf(JsonNode display) =>
        display["drawings"]!.AsArray().Select(drawing => (string)drawing!["shows"]!).Append((string)display["about"]!);

    private static async Task<IReadOnlyList<JsonNode>> PiecesOf(StoreWeek week, string night = "night-1") =>
        [.. (await FirstRain.ExpectStatus(200, week.Lead.Get($"{week.Address}/nights/{night}/sheet"))).Json["pieces"]!.AsArray()!];

    private static string Name(JsonNode piece) => (int?)piece["stints"] is > 1 and var stints
        ? $"{piece["name"]}, part {piece["stint"]} of {stints}" : (string)piece["name"]!;

    private static IEnumerable<string> WorkOf(JsonNode piece) => ((string[])["cautions", "steps", "checks"])
        .SelectMany(part => piece[part]!.AsArray().Select(said => (string)said!)).Append(Name(piece));

    /// <summary>What must be so before it begins.</summary>
    private static IEnumerable<string> GatesOf(JsonNode piece) => piece["gates"]!.AsArray().Select(gate => (string)gate!["text"]!);

    /// <param name="pages">Their addresses, below that of the week unless they begin with a slash.</param>
    /// <param name="onPages">What the pages say in words of their own.</param>
    private static async Task AssertBothSay(StoreWeek week, string sheet, IEnumerable<string> pages, IEnumerable<string> said,
        string person = "", string night = "night-1", IEnumerable<string>? onPages = null)
    {
        await using var visit = await week.SignedIn("lena", Role.Lead);
        var file = await visit.Context.APIRequest.GetAsync($"{week.Address}/nights/{night}/sheets/{sheet}.pdf{person}");
        var onSheet = await Poppler.Text(await file.BodyAsync(), "-raw");
        var printed = "";
        foreach (var page in pages)
        {
            await visit.Page.GotoAsync(page.StartsWith('/') ? page : $"{week.Address}/{page}");
            printed += await Poppler.Text(await visit.Page.PdfAsync(new() { PreferCSSPageSize = true }), "-raw");
        }
        var all = said.Distinct().ToList();
        Assert.NotEmpty(all);
        Assert.Equal([], PrintedTextTests.Missing(all, onSheet));
        Assert.Equal([], PrintedTextTests.Missing([.. all, .. onPages ?? []], printed));
        Assert.Empty(visit.Complaints);
    }

    private static async Task<int> Seen(ILocator items) =>
        await items.EvaluateAllAsync<int>("items => items.filter(item => item.checkVisibility()).length");
}

/// <summary>A test that prints pages and reads what is printed.</summary>
[AttributeUsage(AttributeTargets.Method)]
internal sealed class PrintedFactAttribute : FactAttribute
{
    public PrintedFactAttribute() => (Skip, Timeout) =
        (Chromium.Program is null ? BrowserFactAttribute.Absent : Poppler.IsThere ? null : Poppler.Missing,
            BrowserFactAttribute.Longest);
}
