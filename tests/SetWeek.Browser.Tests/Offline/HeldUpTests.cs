using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>
/// Reports that a browser, another page or a slow line holds up. None is dropped, and the page says what holds it up.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class HeldUpTests(Site site)
{
    private const string Snags = "**/snags";

    /// <summary>Makes every limit of time a twentieth of what it is.</summary>
    private const string Hurry = """
        const limit = AbortSignal.timeout;
        AbortSignal.timeout = time => limit.call(AbortSignal, time / 20);
        """;

    [BrowserFact]
    public async Task A_page_that_has_the_turn_and_sends_nothing_is_named()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.Page.AddInitScriptAsync(Hurry);
        await phone.OpenSheet();
        await using (var other = new Visit(site, await phone.Visit.Context.NewPageAsync(), ownsContext: false))
        {
            await other.Page.GotoAsync(phone.Page.Url);
            await other.Page.EvaluateAsync("() => { navigator.locks.request('setweek-queue', () => new Promise(() => { })); }");
            await phone.Report("started", "wall.paint", "Started");
            await Expect(phone.Status).ToContainTextAsync("One report waits on this phone. "
                + "Another page of this browser sends them.");
            Assert.Empty(await phone.Recorded());
        }
        await phone.Tap("Try now");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    /// <summary>A browser may lose its connection to its own database.</summary>
    [BrowserFact]
    public async Task A_tap_after_a_fault_of_the_browser_is_kept()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.AddForm("finished", "wall.paint", "Finished");
        await FailAtReading(phone, 2); // it is stored, and the queue cannot be read after that
        await phone.Tap("Started");
        await Expect(phone.Status).ToContainTextAsync("This phone cannot read the reports that it keeps (UnknownError).");
        await phone.Tap("Finished");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1", "work-finished 20:55 by p1"], await phone.Recorded());
    }

    /// <summary>Nobody taps anything after the fault.</summary>
    [BrowserFact]
    public async Task After_a_fault_of_the_browser_a_kept_report_goes_by_itself()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.OpenSheet();
        await phone.AddForm("started", "wall.paint", "Started");
        await FailAtReading(phone, 2); // it is stored, and the queue cannot be read after that
        await phone.Tap("Started");
        await Expect(phone.Status).ToContainTextAsync("This phone cannot read the reports that it keeps (UnknownError).");
        await phone.UntilNothingWaits();
        Assert.Equal(["work-started 20:55 by p1"], await phone.Recorded());
    }

    /// <param name="number">Which of the page's next readings of its database fails.</param>
    private static Task FailAtReading(NightPhone phone, int number) => phone.Page.EvaluateAsync("""
        number => {
            let readings = 0;
            const real = IDBDatabase.prototype.transaction;
            IDBDatabase.prototype.transaction = function (stores, mode, ...more) {
                if (mode === 'readonly' && ++readings === number) throw new DOMException('', 'UnknownError');
                return real.call(this, stores, mode, ...more);
            };
        }
        """, number);

    [BrowserFact]
    public async Task A_photograph_that_a_line_cannot_carry_does_not_hold_up_the_others()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.Page.AddInitScriptAsync(Hurry);
        await phone.Page.GotoAsync(phone.AddressOf("snags/new"));
        await phone.UntilKept(phone.Page.Url);
        await phone.Page.FillInSnag();
        await phone.Page.RouteAsync(Snags, _ => Task.CompletedTask); // it is never answered
        await phone.Page.Leave(() => phone.Tap("Keep the snag")); // for the form of the next snag
        await Expect(phone.Status).ToContainTextAsync(
            "The connection is too slow for a photograph. One report waits on this phone.");
        await phone.AddForm("questions", "Ask", new Dictionary<string, string>
        {
            ["id"] = "made-by-the-page", ["at:now"] = "", ["for"] = "lead", ["text"] = "Which of the two blues?",
        });
        await phone.Tap("Ask");
        await phone.IsLoadedAgain();
        await Expect(phone.Waiting).ToHaveTextAsync(["Keep the snag"]);
        Assert.Single(await phone.Recorded("question-asked"));

        await phone.Page.UnrouteAsync(Snags);
        await phone.Tap("Try now");
        await phone.UntilNothingWaits();
        Assert.Single(await phone.Recorded("snag-raised"));
    }

    /// <summary>A photograph of 1 MB may take 50 s more than other reports; a store's line may carry 20 kB in a second.</summary>
    [BrowserFact]
    public async Task A_photograph_has_the_time_that_its_size_takes()
    {
        await using var phone = await NightPhone.SignedIn(site, await StoreWeek.Small(site));
        await phone.Page.AddInitScriptAsync("""
            const limit = AbortSignal.timeout;
            AbortSignal.timeout = time => {
                localStorage.setItem('longest', Math.max(localStorage.getItem('longest') ?? 0, time));
                return limit.call(AbortSignal, time);
            };
            """);
        await phone.Page.GotoAsync(phone.AddressOf("snags/new"));
        var bytes = await phone.Page.FillInSnag(1_000_000);
        await phone.Tap("Keep the snag");
        await Expect(phone.Page.GetByLabel("What", new() { Exact = true })).ToHaveValueAsync(""); // the form of the next snag
        Assert.Single(await phone.Recorded("snag-raised"));
        var longest = await phone.Page.EvaluateAsync<double>("Number(localStorage.getItem('longest'))");
        Assert.Equal(20_000 + bytes / 20.0, longest, 0.5);
    }
}
