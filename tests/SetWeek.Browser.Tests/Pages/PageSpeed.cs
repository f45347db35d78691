using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using SetWeek.Service.Access;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// Measures how soon a page can be used whose browser has nothing of it yet, with a processor four times slower, beside an answer
/// of two words by the same server in the same run. `ops/bench pages` prints it.
/// </summary>
internal static class PageSpeed
{
    private const int Slowdown = 4;

    private static readonly string[] Measured = ["week", "sheet of a night", "sheet of a person", "kits", "count-in", "stores"];

    /// <param name="SignIn">Signs its reader in, without loading a page.</param>
    /// <param name="Show">Loads the page.</param>
    private sealed record MeasuredPage(string Name, Func<Visit, Task> SignIn, Func<Visit, Task> Show);

    /// <summary>One opening of a page.</summary>
    /// <param name="Usable">Milliseconds until its modules have run and the main thread has nothing left to do.</param>
    /// <param name="Shift">How far its content moved meanwhile (Layout Instability, draft of the W3C).</param>
    /// <param name="Layout">Milliseconds of that in which styles were computed and boxes laid out.</param>
    /// <param name="Elements">How many elements the page has.</param>
    private sealed record Opening(double Usable, double Shift, double Layout, int Elements);

    public static async Task Print(Site site, int openings)
    {
        await Print(site, new("an answer of two words", _ => Task.CompletedTask, visit => visit.Page.GotoAsync("/health/live")), openings);
        foreach (var state in PageState.All.Where(state => Measured.Contains(state.Name)))
            await Print(site, new(state.Name, visit => state.SignInUnseen(site, visit), visit => state.Show(site, visit)), openings);
        var largest = await LargestWeek.InItsFirstNight(site);
        foreach (var (name, place) in new[] { ("week of 500 tasks", "plan"), ("sheet of a night of it", "tonight") })
            await Print(site, new(name, visit => visit.SignInUnseen(largest.Chain, "lena", Role.Lead, largest.Store),
                visit => visit.Page.GotoAsync($"{largest.Address}/{place}")), openings);
    }

    private static async Task Print(Site site, MeasuredPage page, int openings)
    {
        var runs = await Openings(site, page, openings);
        Console.WriteLine(JsonSerializer.Serialize(new
        {
            set = "pages", page = page.Name, slowdown = Slowdown, openings,
            kilobytes = Math.Round(await Kilobytes(site, page), 1),
            medianMilliseconds = Math.Round(Median(runs.Select(run => run.Usable))),
            mostMilliseconds = Math.Round(runs.Max(run => run.Usable)),
            layoutMilliseconds = Math.Round(Median(runs.Select(run => run.Layout))),
            elements = runs[0].Elements,
            layoutShift = Math.Round(runs.Max(run => run.Shift), 4), cores = Environment.ProcessorCount,
        }));
    }

    private static double Median(IEnumerable<double> values) => values.Order().ToList() is var sorted ? sorted[sorted.Count / 2] : 0;

    private static async Task<IReadOnlyList<Opening>> Openings(Site site, MeasuredPage page, int openings)
    {
        var runs = new List<Opening>();
        for (var opening = 0; opening <= openings; opening++)
        {
            await using var visit = await site.Open();
            await page.SignIn(visit);
            var devtools = await visit.Context.NewCDPSessionAsync(visit.Page);
            await devtools.SendAsync("Emulation.setCPUThrottlingRate", new() { ["rate"] = Slowdown });
            await devtools.SendAsync("Performance.enable");
            await visit.Page.SetViewportSizeAsync(390, 844);
            await page.Show(visit);
            // The modules have run, and the main thread has nothing left to do.
            var usable = await visit.Page.EvaluateAsync<double>(
                "() => new Promise(done => requestIdleCallback(() => done(performance.now()), { timeout: 10000 }))");
            var layout = await Seconds(devtools, "LayoutDuration", "RecalcStyleDuration");
            var shift = await visit.Page.EvaluateAsync<double>("""
                () => new Promise(done => {
                    let sum = 0;
                    new PerformanceObserver(list => sum += list.getEntries().reduce((all, entry) => all + entry.value, 0))
                        .observe({ type: 'layout-shift', buffered: true });
                    setTimeout(() => done(sum), 300);
                })
                """);
            var elements = await visit.Page.EvaluateAsync<int>("document.querySelectorAll('*').length");
            if (opening > 0) runs.Add(new(usable, shift, layout * 1000, elements)); // the first warms the server up
        }
        return runs;
    }

    /// <summary>The sum of some figures of Chromium's Performance.getMetrics.</summary>
    private static async Task<double> Seconds(ICDPSession devtools, params string[] names) =>
        (await devtools.SendAsync("Performance.getMetrics"))!.Value.GetProperty("metrics").EnumerateArray()
            .Where(metric => names.Contains(metric.GetProperty("name").GetString())).Sum(metric => metric.GetProperty("value").GetDouble());

    private static async Task<double> Kilobytes(Site site, MeasuredPage page)
    {
        await using var visit = await site.Open();
        await page.SignIn(visit);
        return await Transfer.Of(visit, () => page.Show(visit)) / 1000;
    }

    /// <summary>The openings that an argument names; seven unless it does.</summary>
    public static int OpeningsOf(string? argument) => argument is null ? 7 : int.Parse(argument, CultureInfo.InvariantCulture);
}
