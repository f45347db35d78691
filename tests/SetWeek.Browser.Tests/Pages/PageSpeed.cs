using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// Measures how soon a page can be used whose browser has nothing of it yet, with a processor four times slower, beside an answer
/// of two words by the same server in the same run. `ops/bench pages` prints it.
/// </summary>
internal static class PageSpeed
{
    private const int Slowdown = 4;

    private static readonly string[] Measured = ["week", "sheet of a night", "sheet of a person", "kits", "count-in", "stores"];

    public static async Task Print(Site site, int openings)
    {
        PrintFigure("an answer of two words", (0, await Openings(site, null, openings)));
        foreach (var state in PageState.All.Where(state => Measured.Contains(state.Name)))
            PrintFigure(state.Name, (await Kilobytes(site, state), await Openings(site, state, openings)));
    }

    private static void PrintFigure(string page, (double Kilobytes, IReadOnlyList<(double Usable, double Shift)> Runs) figures) =>
        Console.WriteLine(JsonSerializer.Serialize(new
        {
            set = "pages", page, slowdown = Slowdown, openings = figures.Runs.Count, kilobytes = Math.Round(figures.Kilobytes, 1),
            medianMilliseconds = Math.Round(figures.Runs.Select(run => run.Usable).Order().ElementAt(figures.Runs.Count / 2)),
            mostMilliseconds = Math.Round(figures.Runs.Max(run => run.Usable)),
            layoutShift = Math.Round(figures.Runs.Max(run => run.Shift), 4), cores = Environment.ProcessorCount,
        }));

    private static async Task<IReadOnlyList<(double Usable, double Shift)>> Openings(Site site, PageState? state, int openings)
    {
        var runs = new List<(double, double)>();
        for (var opening = 0; opening <= openings; opening++)
        {
            await using var visit = await site.Open(options => options.ServiceWorkers = ServiceWorkerPolicy.Block);
            if (state is not null) await state.SignInUnseen(site, visit);
            var devtools = await visit.Context.NewCDPSessionAsync(visit.Page);
            await devtools.SendAsync("Emulation.setCPUThrottlingRate", new() { ["rate"] = Slowdown });
            await visit.Page.SetViewportSizeAsync(390, 844);
            if (state is null) await visit.Page.GotoAsync("/health/live");
            else await state.Show(site, visit);
            // The modules have run, and the main thread has nothing left to do.
            var usable = await visit.Page.EvaluateAsync<double>(
                "() => new Promise(done => requestIdleCallback(() => done(performance.now()), { timeout: 10000 }))");
            var shift = await visit.Page.EvaluateAsync<double>("""
                () => new Promise(done => {
                    let sum = 0;
                    new PerformanceObserver(list => sum += list.getEntries().reduce((all, entry) => all + entry.value, 0))
                        .observe({ type: 'layout-shift', buffered: true });
                    setTimeout(() => done(sum), 300);
                })
                """);
            if (opening > 0) runs.Add((usable, shift)); // the first warms the server up
        }
        return runs;
    }

    private static async Task<double> Kilobytes(Site site, PageState state)
    {
        await using var visit = await site.Open(options => options.ServiceWorkers = ServiceWorkerPolicy.Block);
        await state.SignInUnseen(site, visit);
        return await Transfer.Of(visit, () => state.Show(site, visit)) / 1000;
    }

    /// <summary>The openings that an argument names; seven unless it does.</summary>
    public static int OpeningsOf(string? argument) => argument is null ? 7 : int.Parse(argument, CultureInfo.InvariantCulture);
}
