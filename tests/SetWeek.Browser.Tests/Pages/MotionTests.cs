using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>Nothing moves by itself for somebody who has asked for less motion (Media Queries Level 5, prefers-reduced-motion).</summary>
[Collection(SiteCollection.Name)]
public sealed class MotionTests(Site site)
{
    [BrowserTheory]
    [InlineData("week"), InlineData("told"), InlineData("stores"), InlineData("what-if"), InlineData("sheet of a person")]
    [InlineData("opening of a night"), InlineData("count-in"), InlineData("display of a direction")]
    public async Task A_page_moves_nothing_by_itself(string name)
    {
        var state = PageState.All.Single(state => state.Name == name);
        await using var visit = await state.Open(site);
        await visit.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        await state.Show(site, visit);
        Assert.Empty(await Moving(visit.Page));
    }

    [BrowserFact]
    public async Task What_moves_is_found()
    {
        await using var visit = await site.Open();
        await visit.Page.SetContentAsync("""<p style="transition: color .2s">Slow</p><p style="animation: 2s none">Waits</p>""");
        Assert.Equal(2, (await Moving(visit.Page)).Length);
        await visit.Page.GotoAsync("/"); // without the wish it scrolls smoothly
        Assert.StartsWith("<html", Assert.Single(await Moving(visit.Page)));
    }

    /// <summary>The elements that scroll smoothly, change slowly, or have an animation.</summary>
    private static Task<string[]> Moving(IPage page) => page.EvaluateAsync<string[]>("""
        () => [...document.querySelectorAll('*')].filter(element => ['', '::before', '::after']
            .map(part => getComputedStyle(element, part)).some(style => style.scrollBehavior === 'smooth'
                || /[1-9]/.test(style.transitionDuration) || /[1-9]/.test(style.animationDuration)))
            .map(element => element.outerHTML.slice(0, 120))
        """);
}
