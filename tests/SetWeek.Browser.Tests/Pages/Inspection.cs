using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// Looks at the page that a browser shows: axe-core (WCAG 2.2, levels A and AA), the size of what is tapped, whether it scrolls
/// sideways, and whether its tables break words.
/// </summary>
internal static class Inspection
{
    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    /// <summary>A phone's window.</summary>
    public const int Narrow = 360, Height = 900;

    /// <summary>A phone, a tablet and a desk, light and dark.</summary>
    private static readonly (int Width, ColorScheme Scheme)[] Screens =
        [(Narrow, ColorScheme.Light), (820, ColorScheme.Dark), (1440, ColorScheme.Light)];

    /// <summary>A window of 1280 pixels at 200 % zoom (WCAG 2.2, success criterion 1.4.4).</summary>
    private const int Zoomed = 640;

    /// <summary>WCAG 2.2, success criterion 2.5.8, asks for 24 CSS pixels; 2.5.5 (AAA) for 44.</summary>
    public const int Target = 24, PhoneTarget = 44;

    /// <summary>Looks at the page as it stands on every screen.</summary>
    /// <param name="isReadOnPhones">Whether its targets on a phone are as large as those of a phone's page.</param>
    /// <returns>The faults, a sentence each.</returns>
    public static async Task<IReadOnlyList<string>> FaultsOnEveryScreen(IPage page, bool isPhone, bool isReadOnPhones = false)
    {
        var faults = new List<string>();
        foreach (var (width, scheme) in Screens)
        {
            await page.SetViewportSizeAsync(width, Height);
            await page.EmulateMediaAsync(new() { ColorScheme = scheme, ReducedMotion = ReducedMotion.Reduce });
            faults.AddRange((await FaultsOf(page, isPhone || isReadOnPhones && width == Narrow))
                .Select(fault => $"{width}, {scheme}: {fault}"));
            if (scheme == ColorScheme.Dark) continue;
            // In the dark the contrast alone: everything else is the same in both colours.
            await page.EmulateMediaAsync(new() { ColorScheme = ColorScheme.Dark });
            faults.AddRange((await FaintText(page)).Select(fault => $"{width}, {ColorScheme.Dark}: {fault}"));
        }
        await page.SetViewportSizeAsync(Zoomed, Height);
        faults.AddRange((await Sideways(page)).Select(fault => $"{Zoomed}: {fault}"));
        if (isPhone) faults.AddRange((await FaultsOfEnlargedText(page)).Select(fault => $"text of 200 %: {fault}"));
        return faults;
    }

    /// <summary>Waits for a sentence of the page, and looks at it on every screen. It has no fault.</summary>
    public static async Task Look(IPage page, string sentence, bool isPhone = false)
    {
        await page.GetByText(sentence).Filter(new() { Visible = true }).First.WaitForAsync();
        var faults = await FaultsOnEveryScreen(page, isPhone);
        Assert.True(faults.Count == 0, $"{sentence} at {page.Url}: {string.Join('\n', faults)}");
    }

    /// <returns>The faults, a sentence each.</returns>
    public static async Task<IReadOnlyList<string>> FaultsOf(IPage page, bool isPhone) =>
    [
        .. await Violations(page), .. await SmallTargets(page, isPhone ? PhoneTarget : Target), .. await Sideways(page),
        .. await BrokenWords(page),
    ];

    /// <summary>What axe-core finds. The rule about target sizes is off unless it is asked for.</summary>
    public static async Task<IReadOnlyList<string>> Violations(IPage page)
    {
        if (!await page.EvaluateAsync<bool>("'axe' in window")) await page.EvaluateAsync(Axe);
        return await page.EvaluateAsync<string[]>("""
            async () => (await axe.run(document, {
                runOnly: { type: 'tag', values: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] },
                rules: { 'target-size': { enabled: true } }, resultTypes: ['violations'],
            })).violations.flatMap(rule => rule.nodes.map(node => `axe, ${rule.id}: ${node.target} ${node.failureSummary}`))
            """);
    }

    /// <summary>What axe-core finds of contrast alone, on a page at which it has looked before.</summary>
    public static async Task<IReadOnlyList<string>> FaintText(IPage page) => await page.EvaluateAsync<string[]>("""
        async () => (await axe.run(document, { runOnly: { type: 'rule', values: ['color-contrast'] }, resultTypes: ['violations'] }))
            .violations.flatMap(rule => rule.nodes.map(node => `axe, ${rule.id}: ${node.target} ${node.failureSummary}`))
        """);

    /// <summary>
    /// Links in a line of text are excepted, as by the criterion. A box or a circle to tick is as large as its label.
    /// </summary>
    public static async Task<IReadOnlyList<string>> SmallTargets(IPage page, int least) => await page.EvaluateAsync<string[]>("""
        least => [...document.querySelectorAll('a[href], button, input:not([type=hidden]), select, textarea, summary, label.btn')]
            .filter(e => e.checkVisibility({ opacityProperty: false }) && !e.closest('.away, .skip') && !e.disabled)
            .filter(e => !(e.localName === 'a' && getComputedStyle(e).display === 'inline'))
            .map(e => [e, ((e.type === 'radio' || e.type === 'checkbox') && e.labels[0] || e).getBoundingClientRect()])
            .filter(([, box]) => box.width > 0 && (box.width < least - .5 || box.height < least - .5))
            .map(([e, box]) => `small: ${e.outerHTML.slice(0, 120)} is ${box.width.toFixed(1)} by ${box.height.toFixed(1)}`)
        """, least);

    public static async Task<IReadOnlyList<string>> Sideways(IPage page) => await page.EvaluateAsync<string[]>("""
        () => document.documentElement.scrollWidth <= document.documentElement.clientWidth ? [] :
            [`sideways: ${document.documentElement.scrollWidth} of ${document.documentElement.clientWidth}: `
                + [...document.querySelectorAll('body *')].filter(e => {
                    const box = e.getBoundingClientRect();
                    return Math.max(box.right, box.left + e.scrollWidth) > innerWidth + 1;
                }).filter(e => !e.closest('.scroll, .chart-box, .skip, svg')).slice(-3).map(e => e.outerHTML.slice(0, 120))
                    .join(' | ')]
        """);

    /// <summary>
    /// The words of tables that are broken in their middle, because their column is too narrow. A column may break a long name.
    /// </summary>
    public static async Task<IReadOnlyList<string>> BrokenWords(IPage page) => await page.EvaluateAsync<string[]>("""
        () => [...document.querySelectorAll('td, th')]
            .filter(cell => cell.checkVisibility() && getComputedStyle(cell.closest('thead') ?? cell).clipPath === 'none')
            .flatMap(cell => {
                const broken = [], range = document.createRange();
                const texts = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
                for (let text; text = texts.nextNode();)
                    for (const word of text.data.matchAll(/(?<![^\s\-–\/])[^\s\-–\/]{2,12}(?![^\s\-–\/])/g)) {
                        range.setStart(text, word.index);
                        range.setEnd(text, word.index + word[0].length);
                        if (new Set([...range.getClientRects()].map(box => Math.round(box.top))).size > 1)
                            broken.push(`broken: ${word[0]} in "${text.data.trim().slice(0, 60)}"`);
                    }
                return broken;
            })
        """);

    /// <summary>
    /// The text alone at twice its size on a phone, as its owner may set it (WCAG 2.2, success criterion 1.4.4): nothing scrolls
    /// sideways, and no box cuts its text off.
    /// </summary>
    private static async Task<IReadOnlyList<string>> FaultsOfEnlargedText(IPage page)
    {
        await page.SetViewportSizeAsync(Narrow, Height);
        await page.EvaluateAsync("document.documentElement.style.fontSize = '200%'");
        IReadOnlyList<string> faults = [.. await Sideways(page), .. await CutText(page)];
        await page.EvaluateAsync("document.documentElement.style.fontSize = ''");
        return faults;
    }

    /// <summary>Boxes that hide a part of their text, apart from what only a screen reader reads (clip-path).</summary>
    public static async Task<IReadOnlyList<string>> CutText(IPage page) => await page.EvaluateAsync<string[]>("""
        () => [...document.querySelectorAll('body *:not(svg *)')]
            .filter(e => e.checkVisibility() && e.textContent.trim() !== '')
            .filter(e => { const style = getComputedStyle(e), hides = value => value === 'hidden' || value === 'clip';
                return style.clipPath === 'none' && (hides(style.overflowX) && e.scrollWidth > e.clientWidth + 1
                    || hides(style.overflowY) && e.scrollHeight > e.clientHeight + 1); })
            .map(e => `cut off: ${e.outerHTML.slice(0, 120)}`)
        """);
}
