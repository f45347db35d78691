using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Sheets;

namespace SetWeek.Service.Printing.Layout;

/// <summary>
/// Puts a sheet on sides of paper. Its text has 11 points, and is smaller only if the sheet then stands on one side: of the sizes
/// with which it does, it has the largest. What is longer has 11 points and goes on on a further side, with the heading again.
/// </summary>
public static class SheetLayout
{
    private const double Side = 12, Edge = 9, Note = 10.5, Foot = BlockLayout.LeastPoints, NotesShare = 0.42;

    /// <summary>A title has the largest of these sizes in which it stands on one line, and otherwise the first.</summary>
    private static readonly double[] Titles = [19, 17, 15];

    /// <summary>From the largest to the closest. With the last one, steps follow each other on a line.</summary>
    private static readonly (double Scale, bool RunsOn)[] Sizes =
    [
        (1, false), (0.96, false), (0.92, false), (0.88, false), (0.85, false), (BlockLayout.Closest, false),
        (BlockLayout.Closest, true),
    ];

    public static IReadOnlyList<PaperPage> Of(PaperSheet sheet, PaperSize paper) =>
        Sizes.Select(size => Sides(sheet, paper, size.Scale, size.RunsOn)).FirstOrDefault(sides => sides.Count == 1)
            ?? Sides(sheet, paper, Sizes[0].Scale, Sizes[0].RunsOn);

    private static IReadOnlyList<PaperPage> Sides(PaperSheet sheet, PaperSize paper, double scale, bool runsOn)
    {
        var width = paper.Width - 2 * Side;
        var foot = FootOf(sheet.Foot, width);
        var room = paper.Height - 2 * Edge - HeadOf(sheet, width, side: 2).Height - foot.Height - 1;
        var sides = Filled(new BlockLayout(scale, room, runsOn).Of(sheet.Blocks, width),
            side => paper.Height - 2 * Edge - HeadOf(sheet, width, side).Height - foot.Height - 1);
        return [.. sides.Select((strips, index) =>
        {
            var end = sides.Count == 1 ? [] : SideOf(index + 1, sides.Count, width);
            return new PaperPage(paper.Width, paper.Height,
                [.. Strip.Stacked([HeadOf(sheet, width, index + 1), .. strips]).Marks.Select(mark => mark.Moved(Side, Edge)),
                    .. foot.Marks.Concat(end).Select(mark => mark.Moved(Side, paper.Height - Edge - foot.Height))]);
        })];
    }

    /// <summary>Strips by side. What keeps with the next one moves with it, unless it would fill a side alone.</summary>
    private static List<List<Strip>> Filled(IReadOnlyList<Strip> strips, Func<int, double> room)
    {
        var (sides, side, used) = (new List<List<Strip>>(), new List<Strip>(), 0.0);
        for (var first = 0; first < strips.Count;)
        {
            var last = first;
            while (strips[last].KeepsWithNext && last + 1 < strips.Count) last++;
            var group = strips.Skip(first).Take(last - first + 1).ToList();
            if (side.Count > 0 && used + group.Sum(strip => strip.Height) > room(sides.Count + 1))
            {
                sides.Add(side);
                side = group[0].Repeats is { } head ? [head] : [];
                used = side.Sum(strip => strip.Height);
            }
            side.AddRange(group);
            used += group.Sum(strip => strip.Height);
            first = last + 1;
        }
        sides.Add(side);
        return sides;
    }

    /// <summary>The title, with the notes at the right, over a thick and a thin line.</summary>
    private static Strip HeadOf(PaperSheet sheet, double width, int side)
    {
        var notes = sheet.Notes.SelectMany(note => TextFlow.Lines([(note, Face.Text)], width * NotesShare, Note)).ToList();
        var wide = width - notes.Select(WidthOf).DefaultIfEmpty().Max() - 6;
        var text = side == 1 ? sheet.Title : $"{sheet.Title}, side {side}";
        var size = Titles.FirstOrDefault(size => Typefaces.Width(text, Face.Heading, size) <= wide, Titles[0]);
        var title = TextFlow.Lines([(text, Face.Heading)], wide, size);
        var (line, small) = (size * 1.15 * Typefaces.Point, Note * 1.22 * Typefaces.Point);
        var bottom = Math.Max(title.Count * line, notes.Count * small) + 1;
        return new Strip(bottom + 4.2,
        [
            .. title.SelectMany((runs, index) => runs.Select(run => new TextMark(
                run.X, bottom - 2.4 - (title.Count - 1 - index) * line, run.Face, size, run.Text))),
            .. notes.SelectMany((runs, index) => runs.Select(run => new TextMark(width - WidthOf(runs) + run.X,
                bottom - 2 - (notes.Count - 1 - index) * small, run.Face, Note, run.Text))),
            new LineMark(0, bottom, width, bottom, 1.2), new LineMark(0, bottom + 1.4, width, bottom + 1.4, 0.3),
        ]);
    }

    private static Strip FootOf(IReadOnlyList<string> foot, double width)
    {
        var line = Foot * 1.22 * Typefaces.Point;
        var lines = TextFlow.Lines([(string.Join(" ", foot), Face.Text)], width - 24, Foot);
        return new Strip(lines.Count * line + 1,
        [
            new LineMark(0, 0, width, 0, 0.2),
            .. lines.SelectMany((runs, index) => runs.Select(run =>
                new TextMark(run.X, 1 + line * (index + 0.79), run.Face, Foot, run.Text))),
        ]);
    }

    private static IEnumerable<PaperMark> SideOf(int side, int sides, double width)
    {
        var text = $"Side {side} of {sides}";
        return [new TextMark(width - Typefaces.Width(text, Face.TextBold, Foot), 1 + Foot * 1.22 * 0.79 * Typefaces.Point,
            Face.TextBold, Foot, text)];
    }

    private static double WidthOf(IReadOnlyList<TextFlow.Run> runs) =>
        runs.Sum(run => Typefaces.Width(run.Text, run.Face, Note));
}
