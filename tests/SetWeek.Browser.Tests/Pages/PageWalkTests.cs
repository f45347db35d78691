using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// Every page and state in a browser that has nothing of it yet, on a phone, a tablet and a desk, light and dark.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class PageWalkTests(Site site)
{
    public static TheoryData<string> Names => [.. PageState.All.Select(state => state.Name)];

    [BrowserTheory]
    [MemberData(nameof(Names))]
    public async Task A_page_loads_little_and_can_be_read_and_tapped_at_every_width(string name)
    {
        var state = PageState.All.Single(state => state.Name == name);
        await using var visit = await site.Open();
        await state.SignInUnseen(site, visit);
        var load = await FirstLoad.Watch(visit);
        await (state with { Reach = null }).Show(site, visit);
        var faults = new List<string>(await load.Moved());
        if (state.Reach is not null) await state.Reach(visit.Page);
        faults.AddRange(await Inspection.FaultsOnEveryScreen(visit.Page, state.IsPhone, state.IsReadOnPhones));
        faults.AddRange(load.Weight());
        faults.AddRange(visit.Complaints.Where(complaint =>
            !new[] { state.Status, state.Refusal }.Any(status => status != 200
                && complaint.Contains($"status of {status}", StringComparison.Ordinal))));
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [BrowserFact]
    public async Task The_walk_finds_what_is_wrong_with_a_page()
    {
        await using var visit = await site.Open();
        await visit.Page.SetViewportSizeAsync(360, 900);
        await visit.Page.SetContentAsync("""
            <!doctype html><html lang="en"><title>Wrong</title><main><h1>Wrong</h1><img src="data:,"><p style="width: 600px">Wide</p>
            <p style="color: #999">Faint</p><button style="width: 20px; height: 20px; padding: 0">x</button>
            <table style="width: 20px; table-layout: fixed; overflow-wrap: anywhere"><tr><td>Broken</td></tr></table>
            <script>console.log("heard")</script><img alt="" src="http://192.0.2.1/picture.png"></main>
            """, new() { WaitUntil = WaitUntilState.DOMContentLoaded });
        var faults = await Inspection.FaultsOf(visit.Page, isPhone: false);
        foreach (var fault in new[] { "axe, image-alt", "axe, color-contrast", "small: <button", "sideways: ", "broken: Broken" })
            Assert.Contains(faults, found => found.StartsWith(fault, StringComparison.Ordinal));
        Assert.StartsWith("axe, color-contrast", Assert.Single(await Inspection.FaintText(visit.Page)));
        await visit.Page.EvaluateAsync("document.querySelector('p').style.cssText = 'height: 1em; overflow: hidden; width: 3em'");
        Assert.StartsWith("cut off: <p", Assert.Single(await Inspection.CutText(visit.Page)));
        Assert.Contains("console, log: heard", visit.Complaints);
        Assert.Contains(visit.Complaints, complaint => complaint.StartsWith("request: http://192.0.2.1", StringComparison.Ordinal));
        await visit.Page.SetContentAsync("""
            <!doctype html><html lang="en"><title>Right</title><main><h1>Right</h1>
            <button style="width: 30px; height: 30px; padding: 0">x</button></main>
            """);
        Assert.Empty(await Inspection.FaultsOf(visit.Page, isPhone: false));
        Assert.NotEmpty(await Inspection.SmallTargets(visit.Page, Inspection.PhoneTarget));
    }

    [BrowserFact]
    public async Task What_moves_while_a_page_loads_is_found()
    {
        await using var visit = await site.Open();
        var load = await FirstLoad.Watch(visit);
        await visit.Page.GotoAsync("/health/live");
        await visit.Page.EvaluateAsync("""
            () => new Promise(done => requestAnimationFrame(() => {
                document.body.innerHTML = '<h1>Late</h1><p>It is pushed down.</p>';
                requestAnimationFrame(() => { document.querySelector('h1').style.marginTop = '300px'; setTimeout(done, 300); });
            }))
            """);
        Assert.Contains(await load.Moved(), fault => fault.Contains("margin-top: 300px", StringComparison.Ordinal));
        Assert.StartsWith("loaded: 0.", Assert.Single(load.Weight())); // far less than a page
    }
}
