using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Journeys;

/// <summary>What the journeys by the keyboard alone have in common.</summary>
internal static class Keyboard
{
    public static ILocator Button(this IPage page, string label) =>
        page.GetByRole(AriaRole.Button, new() { Name = label, Exact = true });

    /// <summary>The page that an act leads to begins at its heading, also for a screen reader.</summary>
    public static async Task BeginsAt(this IPage page, string heading)
    {
        await Expect(page.Locator("h1")).ToHaveTextAsync(heading);
        await Expect(page.Locator("h1")).ToBeFocusedAsync();
    }
}
