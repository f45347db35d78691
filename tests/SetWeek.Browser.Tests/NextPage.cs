using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests;

/// <summary>An act that leads to another page, or by which a page loads itself anew.</summary>
internal static class NextPage
{
    /// <summary>
    /// Acts, and waits until another document is there with its scripts. What it says may stand on the page before too, which is
    /// left a moment later: whoever goes on there loses what they do.
    /// </summary>
    public static async Task Leave(this IPage page, Func<Task> act)
    {
        await page.EvaluateAsync("document.documentElement.dataset.isLeft = ''");
        await act();
        await Expect(page.Locator("html[data-is-left]")).ToHaveCountAsync(0);
        await page.IsLoaded();
    }

    /// <summary>
    /// Waits until a page is loaded with its scripts. It asks the page itself: Playwright's own wait (WaitForLoadStateAsync, and
    /// WaitForURLAsync) misses an event that comes while it begins to wait, and then waits for it in vain.
    /// </summary>
    public static Task IsLoaded(this IPage page) =>
        Expect(page.Locator("html")).ToHaveJSPropertyAsync("ownerDocument.readyState", "complete");
}
