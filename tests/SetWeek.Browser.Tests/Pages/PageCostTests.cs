using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>What the first opening of a page costs a phone: what is transferred, and what moves while it loads.</summary>
[Collection(SiteCollection.Name)]
public sealed class PageCostTests(Site site)
{
    /// <summary>With style sheet, fonts, modules and icons, as they are sent.</summary>
    private const int MostBytes = 150_000;

    [BrowserTheory]
    [InlineData("start"), InlineData("no connection"), InlineData("week"), InlineData("week for the crew"), InlineData("why")]
    [InlineData("sheet of a night"), InlineData("sheet of a person"), InlineData("kits"), InlineData("count-in")]
    [InlineData("snags"), InlineData("told"), InlineData("what changes for a person"), InlineData("stores"), InlineData("crew")]
    public async Task A_first_load_is_small_and_nothing_moves(string name)
    {
        var state = PageState.All.Single(state => state.Name == name);
        await using var visit = await site.Open(options => options.ServiceWorkers = ServiceWorkerPolicy.Block);
        await state.SignInUnseen(site, visit);
        await visit.Page.SetViewportSizeAsync(390, 844);
        await visit.Page.AddInitScriptAsync("""
            window.shifts = [];
            new PerformanceObserver(list => shifts.push(...list.getEntries().filter(entry => !entry.hadRecentInput).map(entry =>
                `${entry.value.toFixed(4)}: ${entry.sources.map(source => source.node?.outerHTML?.slice(0, 80)).join(' | ')}`)))
                .observe({ type: 'layout-shift', buffered: true });
            """);
        var bytes = await Transfer.Of(visit, () => state.Show(site, visit));
        Assert.Empty(await visit.Page.EvaluateAsync<string[]>("shifts"));
        Assert.InRange(bytes, 20_000, MostBytes);
    }
}
