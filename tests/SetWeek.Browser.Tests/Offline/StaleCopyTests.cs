using SetWeek.Browser.Tests.Journeys;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A kept page that stays open while nothing waits on the phone: others have entered something meanwhile.</summary>
[Collection(SiteCollection.Name)]
public sealed class StaleCopyTests(Site site)
{
    private const string Stopped = "Stopped since 20:10";

    [BrowserFact]
    public async Task Once_there_is_a_network_a_kept_page_is_loaded_anew_by_itself()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await KeptSheet(week);
        await HeadOfficeTests.Stop(week);
        await phone.SetOffline(false);
        await Expect(phone.Page.Locator("main")).ToContainTextAsync(Stopped);
        await Expect(phone.Page.Locator("html[data-kept]")).ToHaveCountAsync(0);
    }

    [BrowserFact]
    public async Task Whoever_fills_in_something_keeps_the_page_and_is_told()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await KeptSheet(week);
        await HeadOfficeTests.Stop(week);
        await phone.Page.EvaluateAsync("() => document.dispatchEvent(new Event('input'))");
        await phone.SetOffline(false);
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("others may have entered something since");
        await phone.Look();
        await Expect(phone.Page.Locator("main")).Not.ToContainTextAsync(Stopped);
        await phone.Page.GetByText("Look now").ClickAsync();
        await Expect(phone.Page.Locator("main")).ToContainTextAsync(Stopped);
    }

    /// <summary>The browser says that there is a network, but the page itself gets no answer.</summary>
    [BrowserFact]
    public async Task While_the_service_does_not_answer_the_page_stays_as_it_is()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await KeptSheet(week);
        await HeadOfficeTests.Stop(week);
        site.LostPath = new Uri(phone.Page.Url).AbsolutePath;
        try
        {
            await phone.Page.EvaluateAsync("() => { window.isTheSame = true; }");
            var isAsked = new TaskCompletionSource();
            phone.Page.RequestFailed += (_, request) => _ = request.Url == phone.Page.Url && isAsked.TrySetResult();
            await phone.SetOffline(false);
            await isAsked.Task.WaitAsync(TimeSpan.FromMilliseconds(Visit.Patience));
            await Task.Delay(500); // it would load itself again at once
            Assert.True(await phone.Page.EvaluateAsync<bool>("() => window.isTheSame === true"));
        }
        finally
        {
            site.LostPath = null;
        }
        await phone.Page.EvaluateAsync("() => { document.dispatchEvent(new Event('visibilitychange')); }");
        await Expect(phone.Page.Locator("main")).ToContainTextAsync(Stopped);
    }

    /// <summary>The service has confirmed nothing when a kept page is opened, so the form that is not kept asks first.</summary>
    [BrowserFact]
    public async Task A_form_on_a_kept_page_asks_first_who_is_signed_in()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        using (site.HoldAnswers("/nights/"))
        {
            await phone.OpenSheet(untilKept: false);
            await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("as it stood at");
        }
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("A newer one has come.");
        await site.EndSessions(week.Chain, "p1");
        await phone.AddForm("started", "wall.paint", "Started");
        await phone.Page.EvaluateAsync("() => document.querySelector('form.added').removeAttribute('data-report')");
        await phone.Tap("Started");
        await Expect(phone.Page.Locator("form.added")).ToContainTextAsync("Nothing was sent. Your session is over.");
    }

    /// <summary>The sheet of the night as it is kept, without a network.</summary>
    private async Task<NightPhone> KeptSheet(StoreWeek week)
    {
        var phone = await NightPhone.SignedIn(site, week);
        await phone.OpenSheet();
        await phone.SetOffline(true);
        await phone.OpenSheet(untilKept: false);
        await Expect(phone.Page.Locator(".told.late")).ToContainTextAsync("This is the page as it stood at");
        return phone;
    }
}
