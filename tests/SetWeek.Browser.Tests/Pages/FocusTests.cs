using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>Where the keyboard is, is seen on every page: WCAG 2.2, success criteria 2.4.7, 2.4.11 and 2.4.13.</summary>
[Collection(SiteCollection.Name)]
public sealed class FocusTests(Site site)
{
    /// <summary>Enough stops for the longest page.</summary>
    private const int MostStops = 120;

    [BrowserTheory]
    [InlineData("week", 1280), InlineData("told", 1280), InlineData("facts: a night", 1280), InlineData("questions", 1280)]
    [InlineData("sheet of a person, running", 390), InlineData("piece, a check is not good", 390)]
    [InlineData("opening of a night", 390), InlineData("closing of a night", 390), InlineData("count-in", 390)]
    public async Task Each_stop_of_the_tabulator_has_an_outline_and_is_not_hidden(string name, int width)
    {
        var state = PageState.All.Single(state => state.Name == name);
        await using var visit = await state.Open(site);
        await visit.Page.SetViewportSizeAsync(width, 844);
        await visit.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce }); // it scrolls at once
        await state.Show(site, visit);
        await visit.Page.EvaluateAsync("document.body.tabIndex = -1; document.body.focus(); scrollTo(0, 0)"); // its beginning
        var faults = new List<string>();
        var stops = 0;
        for (; stops < MostStops; stops++)
        {
            await visit.Page.Keyboard.PressAsync("Tab");
            if (await visit.Page.EvaluateAsync<string[]?>(Faults) is not { } found) break;
            faults.AddRange(found);
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.InRange(stops, 10, MostStops); // it has gone through the page
    }

    /// <summary>
    /// What is wrong with the element in focus; null once every element has had it. The outline may be that of the label, where a
    /// control itself is not seen.
    /// </summary>
    private const string Faults = """
        () => {
            const e = document.activeElement;
            if (!e || e === document.body || e.hadFocus) return null;
            e.hadFocus = true;
            const rgb = text => { const all = text.match(/[\d.]+/g).map(Number); return all.length < 4 || all[3] > 0 ? all : null; };
            const light = text => rgb(text).slice(0, 3).map(part => part / 255)
                .map(part => part <= .04045 ? part / 12.92 : ((part + .055) / 1.055) ** 2.4)
                .reduce((sum, part, index) => sum + part * [.2126, .7152, .0722][index], 0);
            const contrast = (one, other) => { const [low, high] = [light(one), light(other)].sort((a, b) => a - b);
                return (high + .05) / (low + .05); };
            const ground = getComputedStyle(document.body).backgroundColor;
            const isOutlined = one => { const style = getComputedStyle(one);
                return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2 && rgb(style.outlineColor)
                    && contrast(style.outlineColor, ground) >= 3; };
            const seen = [e, ...(e.labels ?? []), e.nextElementSibling]
                .filter(one => one && one.checkVisibility({ opacityProperty: true }));
            const box = (e.checkVisibility({ opacityProperty: true }) ? e : seen[0] ?? e).getClientRects()[0];
            const parts = [.1, .5, .9];
            const points = parts.flatMap(x => parts.map(y => [box.x + box.width * x, box.y + box.height * y]));
            const isHit = points.some(([x, y]) => { const hit = document.elementFromPoint(x, y);
                return hit && [e, ...seen].some(one => one.contains(hit) || hit.contains(one) && hit.localName === 'label'); });
            const words = e.outerHTML.slice(0, 120);
            return [...seen.some(isOutlined) ? [] : [`no outline: ${words}`], ...isHit ? [] : [`hidden: ${words}`]];
        }
        """;
}
