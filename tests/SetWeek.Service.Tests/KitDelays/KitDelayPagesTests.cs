using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Pages;
using SetWeek.Service.Tests.Solving;
using static SetWeek.Service.Tests.KitDelays.LorryWeeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.KitDelays;

/// <summary>Head office reports one late lorry for several stores, in a browser without script.</summary>
[Collection(ServiceCollection.Name)]
public sealed class KitDelayPagesTests(RunningService service)
{
    private const string Report = "It is late", Cancel = "Cancel what is not done yet";

    [Fact]
    public async Task A_late_lorry_is_reported_with_a_form_and_its_page_says_what_has_come_of_it_in_each_store()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane", "quay", "abbey");
        await weeks.Publish("mill-lane");
        using var head = await SignedIn(chain);
        await ServiceProcess.Until(async () => (await Page(head, "/kit-delays")).Contains("value=\"abbey\"", StringComparison.Ordinal));
        var refused = await head.PressButton(await Page(head, "/kit-delays"), Report,
            ("stores:list", "quay"), ("why", "The lorry <broke> down."));
        Assert.Equal(400, refused.Status);
        Assert.Contains("Nothing has been kept yet.", refused.Text, StringComparison.Ordinal);
        var reported = await head.PressButton(refused.Text, Report, ("stores:list", "mill-lane"), ("eta", AfterTheirNight));
        Assert.Equal(303, reported.Status);
        await weeks.WhenDone(reported.Location!);

        var page = await Page(head, reported.Location!);
        var words = Markup.TextOf(page).ReplaceLineEndings(" ");
        Assert.Contains("It is now expected Wednesday 10 March, 12:00, by each store's own clock. It concerns 2 stores.", words,
            StringComparison.Ordinal);
        Assert.Matches("mill-lane.*The launch can be kept: .*to be told.*quay.*No plan of this week is published yet", words);
        foreach (var absent in new[] { "abbey", "Asha", "Ben Marsh", "Cleo", Cancel })
            Assert.DoesNotContain(absent, words, StringComparison.Ordinal);
        Assert.Contains("What the new plan changes in mill-lane", words, StringComparison.Ordinal);
        Assert.Contains("<broke>", (await ExpectStatus(200, chain.LeadOf().Get($"/weeks/{WeekOf("quay")}"))).Json["notes"]![0]!["text"]!.ToString());

        Assert.Contains("Forms of First Rain", Markup.TextOf(await Page(head, "/kit-delays")), StringComparison.Ordinal);
        var listed = (await ExpectStatus(200, chain.HeadOffice.Get("/kit-delays?direction=first-rain"))).Json["delays"]!.AsArray();
        Assert.Equal(reported.Location, $"/kit-delays/{Assert.Single(listed)!["id"]}");
        Assert.Empty((await chain.HeadOffice.Get("/kit-delays?direction=other")).Json["delays"]!.AsArray());
        Assert.Empty((await chain.As("ivo", Role.HeadOffice, "abbey").Get("/kit-delays")).Json["delays"]!.AsArray());
    }

    [Fact]
    public async Task A_kit_of_which_nobody_knows_when_it_comes_is_reported_and_the_report_cancelled()
    {
        var chain = service.NewChain();
        var weeks = await Open(chain, "mill-lane");
        await weeks.Publish("mill-lane");
        using var head = await SignedIn(chain);
        await using (await service.HoldSearches())
        {
            var both = await head.PressButton(await Page(head, "/kit-delays"), Report,
                ("eta", AfterTheirNight), ("eta:json", "null"));
            Assert.Equal(400, both.Status);
            Assert.Contains("Give the day, or say that nobody knows when it comes; not both.", both.Text);
            var again = PageForm.With(both.Text, Report);
            Assert.Equal([AfterTheirNight, "null"], again.SentIn("eta").Concat(again.SentIn("eta:json")));
            var reported = await again.Fill("eta", "").Send(head);
            await ServiceProcess.Until(async () =>
                (int?)(await weeks.Report(reported.Location!))["sums"]!["states"]!["planning"] == 1);
            var open = await Page(head, reported.Location!);
            Assert.Contains("Nobody knows when it comes. It concerns 1 store. For 1 store a plan is still awaited.",
                Markup.TextOf(open), StringComparison.Ordinal);
            Assert.Equal((303, reported.Location),
                await head.PressButton(open, Cancel) is var cancelled ? (cancelled.Status, cancelled.Location) : default);
            var words = Markup.TextOf(await Page(head, reported.Location!));
            Assert.Contains("It is cancelled: nothing more is planned or published for it.", words, StringComparison.Ordinal);
            Assert.Contains("Cancelled. The delay stays recorded, and the lead asks for a plan.", words, StringComparison.Ordinal);
            Assert.DoesNotContain(Cancel, words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task A_kit_for_which_no_week_waits_is_named_and_not_by_its_id()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        using var head = await SignedIn(chain);
        var reported = await head.PressButton(await Page(head, "/kit-delays"), Report, ("eta", AfterTheirNight));
        Assert.Equal(303, reported.Status);
        await new LorryWeeks(chain.HeadOffice, chain.LeadOf()).WhenDone(reported.Location!);
        Assert.Contains("No open week of First Rain waits for “Forms”.", Markup.TextOf(await Page(head, reported.Location!)),
            StringComparison.Ordinal);
    }

    private static async Task<LorryWeeks> Open(Chain chain, params string[] stores)
    {
        var weeks = new LorryWeeks(chain.HeadOffice, chain.LeadOf());
        await weeks.Open(stores);
        return weeks;
    }

    /// <summary>Its forms carry their own token.</summary>
    private static async Task<Browser> SignedIn(Chain chain)
    {
        var browser = await chain.SignedIn("ada", Role.HeadOffice);
        browser.FormToken = null;
        return browser;
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return answer.Text;
    }
}
