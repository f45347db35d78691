using Microsoft.Playwright;
using SetWeek.Service.Access;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>Pages on paper: what a screen folds is open, and what only a screen can use is not there.</summary>
[Collection(SiteCollection.Name)]
public sealed class PrintTests(Site site)
{
    [BrowserFact]
    public async Task A_printed_page_shows_the_steps_that_a_screen_folds()
    {
        var week = await site.HarbourStreet;
        await using var visit = await week.SignedIn("lena", Role.Lead);
        await visit.Page.GotoAsync($"{week.Address}/nights/night-1/sheet");
        var folded = visit.Page.Locator("details:not([open]) li");
        Assert.NotEqual(0, await folded.CountAsync());
        Assert.Equal(0, await Seen(folded));
        await visit.Page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.Equal(await folded.CountAsync(), await Seen(folded));
        Assert.False(await visit.Page.Locator("nav").First.IsVisibleAsync());
        Assert.Empty(visit.Complaints);
    }

    private static async Task<int> Seen(ILocator items) =>
        await items.EvaluateAllAsync<int>("items => items.filter(item => item.checkVisibility()).length");
}
