using System.Diagnostics;
using System.Globalization;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A phone that goes off in the middle of a night.</summary>
[Collection(SiteCollection.Name)]
public sealed class RestartTests(Site site)
{
    [BrowserFact]
    public async Task What_was_entered_outlasts_a_killed_browser()
    {
        var week = await StoreWeek.Small(site);
        site.Clock.MoveTo("2027-03-08T21:00");
        var folder = Directory.CreateTempSubdirectory("setweek-chromium.");
        try
        {
            var before = await Start(week, folder.FullName); // never closed in order
            await before.SignIn("p1");
            await before.OpenSheet();
            await before.SetOffline(true);
            await before.Report("started", "wall.paint", "Started");
            await Expect(before.Status).ToContainTextAsync("One report waits");
            await Kill(folder.FullName);
            await using var after = await Start(week, folder.FullName);
            await after.SetOffline(true);
            await after.OpenSheet(untilKept: false);
            await Expect(after.Waiting).ToHaveTextAsync(["Started"]);
            await after.SetOffline(false);
            // The cookie of a session does not outlast the browser.
            await Expect(after.Status).ToContainTextAsync("sign in again, then they go.");
            await after.SignIn("p1");
            await Expect(after.Status).ToContainTextAsync("All sent.");
            Assert.Equal(["work-started 20:55 by p1"], await after.Recorded());
        }
        finally
        {
            await Kill(folder.FullName);
            await Delete(folder);
        }
    }

    private async Task<NightPhone> Start(StoreWeek week, string folder)
    {
        var context = await site.Playwright.Chromium.LaunchPersistentContextAsync(folder, new()
        {
            ExecutablePath = Chromium.Program, Args = Chromium.Arguments, BaseURL = site.Address.ToString(), Locale = "en-GB",
            Timeout = Visit.Patience,
        });
        context.SetDefaultTimeout(Visit.Patience);
        var page = context.Pages.Count > 0 ? context.Pages[0] : await context.NewPageAsync();
        var phone = new NightPhone(week, new Visit(site, page));
        await phone.SetClock();
        return phone;
    }

    /// <summary>Ends the processes of the browser that has this folder, as a flat battery would.</summary>
    private static async Task Kill(string folder)
    {
        foreach (var entry in Directory.EnumerateDirectories("/proc"))
        {
            if (!int.TryParse(Path.GetFileName(entry), NumberStyles.None, CultureInfo.InvariantCulture, out var id)) continue;
            try
            {
                if (!(await File.ReadAllTextAsync($"{entry}/cmdline")).Contains(folder, StringComparison.Ordinal)) continue;
                using var process = Process.GetProcessById(id);
                process.Kill();
                await process.WaitForExitAsync();
            }
            catch (Exception gone) when (gone is IOException or ArgumentException or InvalidOperationException)
            {
                // It has ended by itself.
            }
        }
    }

    /// <summary>A process of the browser that does not name the folder may still write there for a moment.</summary>
    private static async Task Delete(DirectoryInfo folder)
    {
        for (var attempt = 0; ; attempt++)
        {
            try
            {
                folder.Delete(recursive: true);
                return;
            }
            catch (IOException) when (attempt < 100)
            {
                await Task.Delay(100);
            }
        }
    }
}
