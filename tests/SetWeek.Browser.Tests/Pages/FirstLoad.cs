using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>What the first load of a page costs a phone: what is transferred, and what moves by itself.</summary>
internal sealed class FirstLoad
{
    /// <summary>A page without its style sheet and fonts has fewer bytes: then something else was measured.</summary>
    private const int Least = 20_000;

    private readonly IPage page;
    private readonly Transfer transfer;

    private FirstLoad(IPage page, Transfer transfer) => (this.page, this.transfer) = (page, transfer);

    /// <summary>Watches a page of which the browser has nothing yet, at the width of a phone.</summary>
    public static async Task<FirstLoad> Watch(Visit visit)
    {
        await visit.Page.SetViewportSizeAsync(Inspection.Narrow, Inspection.Height);
        await visit.Page.AddInitScriptAsync($"window.shifts = []; ({Observe})()");
        return new(visit.Page, await Transfer.Watch(visit));
    }

    /// <summary>
    /// What has moved from the beginning of the page until now, at the earliest 100 ms after its fonts have come. What moves
    /// within half a second of a tap is expected to (Layout Instability, draft of the W3C: hadRecentInput).
    /// </summary>
    /// <returns>The faults, a sentence each.</returns>
    public async Task<IReadOnlyList<string>> Moved()
    {
        await page.EvaluateAsync("document.fonts.ready.then(() => new Promise(done => setTimeout(done, 100)))");
        return [.. (await page.EvaluateAsync<string[]>("shifts")).Select(shift => $"moved: {shift}")];
    }

    /// <summary>What is wrong with the weight of all that was loaded until now.</summary>
    /// <returns>The faults, a sentence each.</returns>
    public IReadOnlyList<string> Weight() =>
        transfer.Bytes is >= Least and <= Transfer.Most ? [] : [$"loaded: {transfer.Bytes / 1000:F1} kB"];

    private const string Observe = """
        () => new PerformanceObserver(list => shifts.push(...list.getEntries().filter(entry => !entry.hadRecentInput).map(entry =>
            `${entry.value.toFixed(4)}: ${entry.sources.map(source => source.node?.outerHTML?.slice(0, 80)).join(' | ')}`)))
            .observe({ type: 'layout-shift', buffered: true })
        """;
}
