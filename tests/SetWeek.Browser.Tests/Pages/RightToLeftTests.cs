using Microsoft.Playwright;
using SetWeek.Service.Access;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>
/// A line from left to right that contains names from right to left is read in its order: what stands before a name is at its
/// left, what follows at its right. By the Unicode Standard a number that follows such a name would else go to its other side.
/// </summary>
[Collection(SiteCollection.Name)]
public sealed class RightToLeftTests(Site site)
{
    private const string Asha = "נועה בן־שחר", Cleo = "عبد الرحمن";

    /// <summary>The show window, the kit of forms and the painting of the wall.</summary>
    private const string Window = "חלון ראווה", Forms = "ערכת בובות", Wall = "לצבוע את הקיר";

    [BrowserFact]
    public async Task Names_and_times_stand_in_the_order_of_their_line()
    {
        var week = await StoreWeek.Open(site, FirstRain.Direction.Replace("Paint the wall", Wall)
                .Replace("\"name\": \"Forms\"", $"\"name\": \"{Forms}\""),
            Samples.Store(name: "Harbour Street").Replace("Show window", Window),
            FirstRain.Opening.Replace("Asha Rowan", Asha).Replace("Cleo Strand", Cleo));
        await week.PlanAndPublish();
        week.MoveTo("2027-03-08T20:10");
        await using var lead = await week.SignedIn("lena", Role.Lead);
        var (faults, besideNumbers) = (new List<string>(), 0);
        foreach (var page in new[]
        {
            "plan", "nights/monday/sheet", "nights/monday/sheet?person=p1", "nights/monday/sheet?view=record", "tonight",
            "nights/monday/opening", "nights/monday/closing", "nights/monday/pieces/101", "nights/monday/pieces/101?act=finish",
            "kits", "kits/forms", "crew", "told", "facts", "hours", "walk-through", "hand-over", "history",
        })
        {
            await lead.Page.GotoAsync($"{week.Address}/{page}");
            var lines = await Read(lead.Page);
            faults.AddRange(lines.Faults.Select(fault => $"{page}: {fault}"));
            besideNumbers += lines.BesideNumbers;
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.InRange(besideNumbers, 10, int.MaxValue);
    }

    [BrowserFact]
    public async Task A_line_in_another_order_is_found()
    {
        await using var visit = await site.Open();
        await visit.Page.SetContentAsync($"<p>101, {Asha}, 20:15</p>");
        Assert.Equal([$"“20:15” is not at the right of “{Asha}”"], (await Read(visit.Page)).Faults);
        await visit.Page.SetContentAsync($"<p>101, <bdi>{Asha}</bdi>, 20:15</p>");
        var isolated = await Read(visit.Page);
        Assert.Equal((0, 2), (isolated.Faults.Length, isolated.BesideNumbers));
    }

    private sealed record Lines
    {
        /// <summary>A sentence each.</summary>
        public string[] Faults { get; init; } = [];

        /// <summary>How many neighbours were compared of which one has a figure.</summary>
        public int BesideNumbers { get; init; }
    }

    /// <summary>
    /// Compares neighbours in each line: texts from right to left, with their spaces and commas, and other words. Drawings and
    /// what is typed are not looked at.
    /// </summary>
    private static Task<Lines> Read(IPage page) => page.EvaluateAsync<Lines>("""
        () => {
            const letter = '[\\u0590-\\u08FF\\uFB1D-\\uFDFF\\uFE70-\\uFEFC]';
            const other = `(?:(?!${letter})[^\\s])*`;
            const words = new RegExp(`${letter}(?:[ ,-]*${letter})*|${other}(?!${letter})[\\p{L}\\p{N}]${other}`, 'gu');
            const fromRight = new RegExp(letter), faults = [];
            const blockOf = e => getComputedStyle(e).display === 'inline' ? blockOf(e.parentElement) : e;
            const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
            let before = null, besideNumbers = 0;
            while (walker.nextNode()) {
                const node = walker.currentNode;
                if (node.parentElement.closest('svg, option, textarea, script, .away')) continue;
                const block = blockOf(node.parentElement);
                if (getComputedStyle(block).direction === 'rtl') continue;
                for (const found of node.data.matchAll(words)) {
                    const range = document.createRange();
                    range.setStart(node, found.index);
                    range.setEnd(node, found.index + found[0].length);
                    const boxes = [...range.getClientRects()];
                    if (!boxes.length || new Set(boxes.map(box => Math.round(box.top))).size > 1) { before = null; continue; }
                    const word = { text: found[0], block, isFromRight: fromRight.test(found[0]), box: range.getBoundingClientRect() };
                    if (before?.block === block && (before.isFromRight || word.isFromRight)
                        && before.box.bottom > word.box.top && before.box.top < word.box.bottom) {
                        if (/\p{N}/u.test(before.text + word.text)) besideNumbers++;
                        if (word.box.left < before.box.right - 1)
                            faults.push(`“${word.text}” is not at the right of “${before.text}”`);
                    }
                    before = word;
                }
            }
            return { faults, besideNumbers };
        }
        """);
}
