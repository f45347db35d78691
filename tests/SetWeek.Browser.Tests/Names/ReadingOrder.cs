using Microsoft.Playwright;

namespace SetWeek.Browser.Tests.Names;

/// <summary>In which order the words of a page stand, where some are from right to left.</summary>
internal sealed record ReadingOrder
{
    /// <summary>A sentence each.</summary>
    public string[] Faults { get; init; } = [];

    /// <summary>How many neighbours were compared of which one has a figure.</summary>
    public int BesideNumbers { get; init; }

    /// <summary>Which of the texts are the whole of an element.</summary>
    public string[] Found { get; init; } = [];

    /// <summary>
    /// Compares neighbours in each line. A text from right to left that has a direction of its own stands as one, and its words
    /// from right to left. Words of Latin letters are in none: a sentence of ours may begin with a name. Drawings and what is
    /// typed are not looked at.
    /// </summary>
    /// <param name="texts">From right to left. Where one is the whole of an element, no piece of it is read apart.</param>
    public static Task<ReadingOrder> Of(IPage page, params IReadOnlyList<string> texts) => page.EvaluateAsync<ReadingOrder>("""
        texts => {
            const letter = '[\\u0590-\\u08FF\\uFB1D-\\uFDFF\\uFE70-\\uFEFC]';
            const other = `(?:(?!${letter})[^\\s])*`;
            const words = new RegExp(`${letter}(?:[ -]*${letter})*|${other}(?!${letter})[\\p{L}\\p{N}]${other}`, 'gu');
            const fromRight = new RegExp(letter), unseen = 'svg, option, textarea, script, .away';
            const isOneLine = boxes => boxes.length > 0 && new Set(boxes.map(box => Math.round(box.top))).size === 1;
            const isBeside = (box, other) => box.bottom > other.top && box.top < other.bottom;
            const blockOf = e => getComputedStyle(e).display === 'inline' ? blockOf(e.parentElement) : e;
            const ownOf = e => {
                const own = e.closest('bdi, [dir="auto"]');
                return own && getComputedStyle(own).direction === 'rtl' ? own : null;
            };
            // Null in the place of what is folded away, or goes on in the next line.
            const wordsOf = element => {
                const walker = document.createTreeWalker(element, NodeFilter.SHOW_TEXT), all = [];
                for (let node; node = walker.nextNode();) {
                    const parent = node.parentElement;
                    if (parent.closest(unseen)) continue;
                    for (const found of node.data.matchAll(words)) {
                        const range = document.createRange();
                        range.setStart(node, found.index);
                        range.setEnd(node, found.index + found[0].length);
                        all.push(isOneLine([...range.getClientRects()]) ? { text: found[0], block: blockOf(parent),
                            own: ownOf(parent), isFromRight: fromRight.test(found[0]), box: range.getBoundingClientRect(),
                        } : null);
                    }
                }
                return all;
            };
            const faults = [], seen = new Set();
            let before = null, besideNumbers = 0;
            for (const word of wordsOf(document.body)) {
                if (word?.own && /\p{Script=Latin}/u.test(word.text))
                    faults.push(`“${word.text}” stands in a text from right to left`);
                if (word && before?.block === word.block && isBeside(before.box, word.box)) {
                    if (/\p{N}/u.test(before.text + word.text)) besideNumbers++;
                    if (before.own && before.own === word.own) {
                        if (word.box.right > before.box.left + 1)
                            faults.push(`“${word.text}” is not at the left of “${before.text}”`);
                    } else if (before.isFromRight || word.isFromRight || before.own || word.own) {
                        const [left, right] = [before, word].map(one => one.own ?? { getClientRects: () => [one.box] })
                            .map(one => [...one.getClientRects()]);
                        if (isOneLine(left) && isOneLine(right) && right[0].left < left[0].right - 1)
                            faults.push(`“${word.text}” is not at the right of “${before.text}”`);
                    }
                }
                before = word;
            }
            for (const element of document.body.querySelectorAll('bdi')) {
                if (element.closest(unseen)) continue;
                const held = texts.filter(text => element.textContent.includes(text));
                if (held.length > 1) faults.push(`“${held.join('” and “')}” share one direction`);
            }
            const textOf = e => e.textContent.replace(/[“”]/g, '').trim();
            for (const element of document.body.querySelectorAll('*')) {
                const text = textOf(element);
                if (!texts.includes(text) || element.closest(unseen)) continue;
                if ([...element.children].some(inner => textOf(inner) === text)) continue;
                const pieces = wordsOf(element);
                if (pieces.some(piece => piece !== null)) seen.add(text);
                pieces.forEach((piece, index) => {
                    const next = pieces[index + 1];
                    if (piece && next && isBeside(piece.box, next.box) && next.box.right > piece.box.left + 1)
                        faults.push(`“${text}” is read in pieces`);
                });
            }
            return { faults, besideNumbers, found: [...seen] };
        }
        """, texts);
}
