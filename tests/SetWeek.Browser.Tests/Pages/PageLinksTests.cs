using Microsoft.Playwright;
using SetWeek.Service.Access;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>The links in the head of a page: all at once where there is room, else one line, and the others open below it.</summary>
[Collection(SiteCollection.Name)]
public sealed class PageLinksTests(Site site)
{
    [BrowserTheory]
    [InlineData(360), InlineData(390)]
    public async Task A_phone_has_one_line_of_links_and_opens_the_others(int width)
    {
        await using var visit = await OpenWeek(width, "plan");
        var links = visit.Page.GetByRole(AriaRole.Navigation, new() { Name = "Pages" });
        await Expect(links.GetByRole(AriaRole.Link)).ToHaveTextAsync(["Week", "Tonight", "Kits", "Snags", "Questions"]);
        Assert.InRange((await links.BoundingBoxAsync())!.Height, 44, 50);

        await visit.Press(links.GetByText("More", new() { Exact = true }), "Enter");
        await Expect(links.GetByRole(AriaRole.Link)).ToHaveCountAsync(12);
        foreach (var link in await links.GetByRole(AriaRole.Link).AllAsync())
            Assert.True(await link.BoundingBoxAsync() is { Width: >= 44, Height: >= 44 }, await link.InnerTextAsync());
        await visit.Page.Leave(() => visit.Press(links.GetByRole(AriaRole.Link, new() { Name = "Hand-over" }), "Enter"));
        await Expect(visit.Page.Locator("h1")).ToHaveTextAsync("Hand-over");
        await Expect(links.GetByText("More: Hand-over")).ToBeVisibleAsync();
    }

    [BrowserTheory]
    [InlineData(820), InlineData(1440)]
    public async Task A_wide_window_has_every_link_at_once(int width)
    {
        await using var visit = await OpenWeek(width, "hand-over");
        var links = visit.Page.GetByRole(AriaRole.Navigation, new() { Name = "Pages" });
        await Expect(links.GetByRole(AriaRole.Link)).ToHaveCountAsync(12);
        await Expect(links.Locator("summary")).ToBeHiddenAsync();
        await Expect(links.Locator("[aria-current=page]")).ToHaveTextAsync("Hand-over");
        foreach (var link in await links.GetByRole(AriaRole.Link).AllAsync()) await Expect(link).ToBeInViewportAsync();
    }

    private async Task<Visit> OpenWeek(int width, string page)
    {
        var week = await site.HarbourStreet;
        var visit = await site.SignedIn(week.Chain, "lena", Role.Lead, week.Store);
        await visit.Page.SetViewportSizeAsync(width, 844);
        await visit.Page.GotoAsync($"{week.Address}/{page}");
        return visit;
    }
}
