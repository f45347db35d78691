using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>
/// The forms of a night besides those of its pieces. Each is filled in without a network and waits; the page is closed and opened
/// again; once the network is back the report arrives, once.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class FormTests(Site site)
{
    [BrowserFact]
    public async Task A_kit_is_counted_in()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await ArrivesOnce(phone, "kits/forms", async page =>
        {
            await page.GetByRole(AriaRole.Radio, new() { Name = "Fewer" }).CheckAsync();
            await page.GetByLabel("How many came, if fewer").FillAsync("3");
            await page.GetByRole(AriaRole.Button, new() { Name = "Sign the count" }).ClickAsync();
        }, "kit-arrived", isMarked: true);
        var kit = (await week.Lead.Get($"{week.Address}/kits/forms")).Json;
        Assert.Equal(3, (int)kit["lines"]![0]!["received"]!);
    }

    [BrowserFact]
    public async Task An_area_is_looked_at()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await ArrivesOnce(phone, "walk-through", async page =>
        {
            foreach (var good in await page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).AllAsync())
                await good.CheckAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "is looked at" }).ClickAsync();
        }, "area-looked-at", isMarked: true);
    }

    /// <summary>The photograph waits with the report, and is sent with it.</summary>
    [BrowserFact]
    public async Task A_snag_is_raised_with_a_photograph()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await ArrivesOnce(phone, "snags/new", async page =>
        {
            await page.FillInSnag();
            await page.GetByRole(AriaRole.Button, new() { Name = "Keep the snag" }).ClickAsync();
        }, "snag-raised");
        var snag = Assert.Single((await week.Lead.Get($"{week.Address}/snags")).Json["snags"]!.AsArray())!;
        var photo = (string)Assert.Single(snag["photos"]!.AsArray())!;
        Assert.Equal(200, (await week.Lead.Get($"{week.Address}/photos/{photo}")).Status);
    }

    [BrowserFact]
    public async Task A_night_is_opened()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        await ArrivesOnce(phone, "nights/monday/opening", async page =>
        {
            foreach (var box in await page.GetByRole(AriaRole.Checkbox).AllAsync()) await box.CheckAsync();
            await page.GetByLabel("Name of the person").SelectOptionAsync("p2");
            await page.GetByRole(AriaRole.Button, new() { Name = "Open the night" }).ClickAsync();
        }, "night-opened", "lena", isMarked: true);
    }

    [BrowserFact]
    public async Task A_night_is_closed()
    {
        var week = await StoreWeek.Small(site);
        site.Clock.MoveTo("2027-03-08T21:00");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/nights/monday/opening", """
            {"id": "o1", "at": "2027-03-08T20:00:00Z", "here": ["p1", "p2"], "firstAider": "p2", "said": ["exits", "first-aid"]}
            """));
        await using var phone = await NightPhone.SignedIn(site, week, "lena", Role.Lead);
        await ArrivesOnce(phone, "nights/monday/closing", async page =>
        {
            foreach (var good in await page.GetByRole(AriaRole.Radio, new() { Name = "Good", Exact = true }).AllAsync())
                await good.CheckAsync();
            foreach (var person in await page.GetByRole(AriaRole.Checkbox, new() { Name = "is out" }).AllAsync())
                await person.CheckAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Close the night" }).ClickAsync();
        }, "night-closed", "lena", isMarked: true);
    }

    /// <param name="place">Below the address of the week.</param>
    /// <param name="type">The event of the report.</param>
    /// <param name="isMarked">Whether the form itself says that it waits.</param>
    private static async Task ArrivesOnce(
        NightPhone phone, string place, Func<IPage, Task> fillIn, string type, string person = "p1", bool isMarked = false)
    {
        var address = phone.AddressOf(place);
        await phone.Page.GotoAsync(address);
        await phone.UntilKept(address);
        await phone.SetOffline(true);
        await phone.Page.GotoAsync(address);
        await fillIn(phone.Page);
        await Expect(phone.Status).ToContainTextAsync("No connection. One report waits on this phone.");
        await Expect(phone.Waiting).ToHaveCountAsync(1);

        await phone.Visit.Reopen();
        await phone.Page.GotoAsync(address);
        await Expect(phone.Waiting).ToHaveCountAsync(1);
        await phone.Look();
        await Expect(phone.Page.Locator("form .entered")).ToHaveTextAsync(isMarked ? ["Entered at 20:55, not yet sent."] : []);
        Assert.Empty(await phone.Recorded(type));

        await phone.SetOffline(false);
        await Expect(phone.Status).ToContainTextAsync("All sent.");
        string[] once = [$"{type} 20:55 by {person}"];
        Assert.Equal(once, await phone.Recorded(type));
        await phone.Visit.Reopen();
        await phone.OpenFresh(address);
        await Expect(phone.Status).ToBeEmptyAsync();
        Assert.Equal(once, await phone.Recorded(type));
    }
}
