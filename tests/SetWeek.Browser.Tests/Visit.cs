using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;

namespace SetWeek.Browser.Tests;

/// <summary>A page in a browser context of its own, with what the browser complained of.</summary>
public sealed class Visit : IAsyncDisposable
{
    /// <summary>How long an act of the browser may take, in milliseconds: a shared machine may be busy.</summary>
    public const float Patience = 60_000;

    /// <summary>What Playwright says where a page asks for a service worker and its context allows none.</summary>
    private const string NoWorker = "Service Worker registration blocked by Playwright";

    private readonly Site site;
    private readonly bool ownsContext;
    private readonly List<string> complaints = [];

    /// <param name="ownsContext">Whether the end of the visit closes the context; else it closes the page alone.</param>
    public Visit(Site site, IPage page, bool ownsContext = true)
    {
        (this.site, Page, this.ownsContext) = (site, page, ownsContext);
        Watch(page);
    }

    public IPage Page { get; private set; }

    public IBrowserContext Context => Page.Context;

    /// <summary>Console messages, uncaught errors, and requests to other hosts, in their order.</summary>
    public IReadOnlyList<string> Complaints => complaints;

    /// <summary>Opens the sign-in link of a person and presses its button.</summary>
    public async Task SignIn(string chain, string person, Role role, params string[] stores)
    {
        await Page.GotoAsync(site.SignInLink(chain, person, role, stores));
        await Page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Assertions.Expect(Page).ToHaveURLAsync(site.Address.ToString());
        await Page.IsLoaded();
    }

    /// <summary>The same without a page, so that the browser has loaded nothing yet.</summary>
    public async Task SignInUnseen(string chain, string person, Role role, params string[] stores)
    {
        var link = site.SignInLink(chain, person, role, stores);
        var page = await (await Context.APIRequest.GetAsync(link, new() { Headers = Html })).TextAsync();
        var form = Context.APIRequest.CreateFormData();
        form.Set(FormToken.Field, WebUtility.HtmlDecode(Regex.Match(page, "name=\":token\" value=\"([^\"]+)\"").Groups[1].Value));
        await Context.APIRequest.PostAsync(link, new() { Headers = Html, Form = form });
    }

    /// <summary>The HTML of a page that is not shown.</summary>
    public async Task<string> Read(string address)
    {
        var answer = await Context.APIRequest.GetAsync(address, new() { Headers = Html });
        Assert.True(answer.Ok, $"{address}: {answer.Status}");
        return await answer.TextAsync();
    }

    private static readonly Dictionary<string, string> Html = new() { ["Accept"] = "text/html" };

    /// <summary>Goes to a button by the tabulator alone, and presses Enter.</summary>
    public async Task PressByKeyboard(string label)
    {
        await Page.IsLoaded(); // a page may give the focus to its heading then
        for (var step = 0; step < 90; step++)
        {
            await Page.Keyboard.PressAsync("Tab");
            if (await Page.EvaluateAsync<string>("document.activeElement.textContent.trim()") != label) continue;
            await Page.Keyboard.PressAsync("Enter");
            return;
        }
        Assert.Fail($"The tabulator does not reach {label}.");
    }

    /// <summary>Goes to a control by the tabulator alone, and presses a key there.</summary>
    public async Task Press(ILocator control, string key)
    {
        await TabTo(control);
        await Page.Keyboard.PressAsync(key);
    }

    /// <summary>The same, and types.</summary>
    public async Task Type(ILocator field, string text)
    {
        await TabTo(field);
        await Page.Keyboard.TypeAsync(text);
    }

    /// <summary>
    /// A radio button may show its focus on the label beside it (WCAG 2.2, 2.4.7: the focus is visible). The tabulator leaves the
    /// page at its end and comes back to its beginning.
    /// </summary>
    private async Task TabTo(ILocator control)
    {
        await Page.IsLoaded();
        var target = await control.ElementHandleAsync();
        for (var step = 0; step < 200; step++)
        {
            await Page.Keyboard.PressAsync("Tab");
            if (!await target.EvaluateAsync<bool>("target => target === document.activeElement")) continue;
            Assert.True(await target.EvaluateAsync<bool>("""
                target => [target, target.nextElementSibling].some(shown => shown && getComputedStyle(shown).outlineStyle !== 'none')
                """), $"The focus on {control} cannot be seen.");
            return;
        }
        Assert.Fail($"The tabulator does not reach {control}.");
    }

    /// <summary>Closes the page and opens another in the same context, as somebody does who closes a tab.</summary>
    public async Task Reopen()
    {
        var context = Context;
        await Close();
        Watch(Page = await context.NewPageAsync());
    }

    /// <summary>
    /// Chromium says that it closes a page, and forgets it if the page is just loading itself again. So it is asked until the page
    /// is closed. Playwright's own way asks once, and then waits without end.
    /// </summary>
    private async Task Close()
    {
        var closed = new TaskCompletionSource();
        Page.Close += (_, _) => closed.TrySetResult();
        for (var attempt = 0; attempt < Patience / 1000 && !closed.Task.IsCompleted; attempt++)
        {
            await Page.CloseAsync(new() { RunBeforeUnload = true }); // returns without waiting
            await Task.WhenAny(closed.Task, Task.Delay(1000));
        }
        Assert.True(closed.Task.IsCompleted, "Chromium does not close the page.");
    }

    public async ValueTask DisposeAsync() => await (ownsContext ? Context.CloseAsync() : Close());

    private void Watch(IPage page)
    {
        page.SetDefaultTimeout(Patience);
        page.SetDefaultNavigationTimeout(Patience);
        page.Console += (_, message) =>
        {
            if (message.Text != NoWorker) complaints.Add($"console, {message.Type}: {message.Text}");
        };
        page.PageError += (_, error) => complaints.Add($"error: {error}");
        page.Request += (_, request) =>
        {
            if (new Uri(request.Url) is var url && url.Scheme is "http" or "https" && url.Authority != site.Address.Authority)
                complaints.Add($"request: {request.Url}");
        };
    }
}
