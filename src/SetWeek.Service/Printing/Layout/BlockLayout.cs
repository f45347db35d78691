using System.Globalization;
using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Sheets;

namespace SetWeek.Service.Printing.Layout;

/// <summary>Makes strips of the blocks of a sheet.</summary>
/// <param name="Scale">1 for the usual sizes; less to fit more on a side.</param>
/// <param name="MaxHeight">The room on one side: columns that are higher stand one after the other.</param>
/// <param name="RunsOn">
/// Whether the steps of a piece, its cautions, and what must be so before it begins follow each other on a line, to fit still more.
/// </param>
public sealed record BlockLayout(double Scale, double MaxHeight, bool RunsOn)
{
    /// <summary>Sizes in points.</summary>
    private const double Body = 11, Small = 10.5, HeadingSize = 12.5, PieceTitle = 13, PieceTime = 15;

    /// <summary>No text is smaller, in points (common practice, no source).</summary>
    public const double LeastPoints = 9;

    /// <summary>The least scale, at which the lines of text stand closer too. With it, text has just over 9 points.</summary>
    public const double Closest = 0.82;

    private const double Mark = 5, TimeWidth = 20, Gap = 4, HalvesGap = 8, WritingHeight = 7.5, Column = 6;

    /// <summary>
    /// The widths that the checks of a piece may have beside its steps: usually one for all pieces; where room is scarce, the one
    /// that makes the piece lowest.
    /// </summary>
    private static readonly double[] OneCheckWidth = [50], CheckWidths = [34, 42, 50, 58, 66, 76, 88];

    private const string BeforeItBegins = "Before it begins";

    /// <summary>The height of a line as a share of the size of its text.</summary>
    public static double LeadingOf(double scale) => scale > Closest ? 1.22 : 1.13;

    public IReadOnlyList<Strip> Of(IEnumerable<PaperBlock> blocks, double width) =>
        [.. blocks.SelectMany(block => Of(block, width))];

    private IEnumerable<Strip> Of(PaperBlock block, double width) => block switch
    {
        HeadingBlock heading => [Strip.Space(2.6 * Scale) with { KeepsWithNext = true }, .. Text(
            [(heading.Text, Face.Heading)], width, HeadingSize).Select(line => line with { KeepsWithNext = true }),
            Strip.Space(0.6 * Scale) with { KeepsWithNext = true }],
        TextBlock text => [.. Text([(text.Strong, Face.TextBold), ($" {text.Text}", Face.Text)], width, Body),
            Strip.Space(0.8 * Scale)],
        CautionBlock caution => Cautions(caution.Items, width, Body),
        ListBlock list => Columns([.. list.Items.Index().Select(item => Item(list.Mark, item.Index + 1, item.Item,
            ColumnWidth(width, list.Columns), Body))], list.Columns, width),
        TableBlock table => TableLayout.Of(table, width, Scale),
        PieceBlock piece => (RunsOn ? CheckWidths : OneCheckWidth).Select(side => Piece(piece, width, side * Scale))
            .MinBy(strips => strips.Sum(strip => strip.Height))!,
        BlanksBlock blanks => Columns([.. blanks.Labels.Select(label =>
            (IReadOnlyList<Strip>)[Blank(label, ColumnWidth(width, blanks.Columns))])], blanks.Columns, width),
        HalvesBlock halves => Halves(halves, width),
        _ => throw new ArgumentException($"No layout is known for {block.GetType().Name}.", nameof(block)),
    };

    /// <summary>Lines of text, one strip each.</summary>
    private IReadOnlyList<Strip> Text(IEnumerable<(string Text, Face Face)> parts, double width, double size, double x = 0)
    {
        var (points, height) = (Points(size), Points(size) * LeadingOf(Scale) * Typefaces.Point);
        return [.. TextFlow.Lines(parts, width - x, points).Select(line => new Strip(height,
            [.. line.Select(run => new TextMark(x + run.X, height * 0.79, run.Face, points, run.Text))]))];
    }

    private double Points(double size) => Math.Max(LeastPoints, size * Scale);

    private IReadOnlyList<Strip> Cautions(IReadOnlyList<string> items, double width, double size)
    {
        if (items.Count == 0) return [];
        IReadOnlyList<string> paragraphs = RunsOn ? [string.Join(" ", items)] : items;
        var strips = paragraphs.SelectMany((item, index) => Text([(item, Face.TextBold)], width, size, 4 * Scale)
            .Prepend(Strip.Space(index == 0 ? 0.3 : 0.5 * Scale))).ToList();
        // Each strip has its part of the bar, so that the bar goes on where a side ends.
        return [.. strips.Select(strip => strip with
        {
            Marks = [.. strip.Marks, new LineMark(0.8, 0, 0.8, strip.Height, 1.6)],
        }), Strip.Space(0.8 * Scale)];
    }

    /// <summary>An item with its mark, which hangs at the left of all its lines.</summary>
    private IReadOnlyList<Strip> Item(ListMark mark, int number, string text, double width, double size)
    {
        var indent = mark == ListMark.None ? 0 : Mark * Scale;
        var lines = Text([(text, Face.Text)], width, size, indent);
        if (mark == ListMark.None) return [.. lines, Strip.Space(0.8 * Scale)];
        if (lines.Count == 0) return lines;
        var side = 3 * Scale;
        PaperMark sign = mark == ListMark.Box ? new TickBox(0.2, lines[0].Height * 0.79 - side + 0.2, side)
            : new TextMark(0, lines[0].Height * 0.79, Face.TextBold, Points(size), NumberOf(number));
        return [lines[0] with { Marks = [sign, .. lines[0].Marks] }, .. lines.Skip(1)];
    }

    private IReadOnlyList<Strip> Piece(PieceBlock piece, double width, double side)
    {
        var (time, gap) = (TimeWidth * Scale, Gap * Scale);
        var middle = width - time - side - 2 * gap;
        Strip[] rule = [new Strip(1 * Scale, [new LineMark(0, 0, width, 0, 0.3)])];
        Strip[] hanging = [.. Text([(piece.Time, Face.TextBold)], time, PieceTime),
            .. piece.Hints.SelectMany(hint => Text([(hint, Face.Text)], time, Small))];
        Strip[] left = [.. Text([(piece.Title, Face.Heading)], middle, PieceTitle),
            .. Text([(piece.Where, Face.Text)], middle, Small), .. Cautions(piece.Cautions, middle, Body),
            .. RunsOn && piece.Gates.Count > 0 ? Text([($"{BeforeItBegins}:", Face.TextBold),
                ($" {string.Join(" ", piece.Gates)}", Face.Text)], middle, Small) : [],
            .. Steps(piece.Steps, middle)];
        Strip[] right = [.. RunsOn || piece.Gates.Count == 0 ? [] : Text([(BeforeItBegins, Face.TextBold)], side, Small)
                .Concat(piece.Gates.SelectMany(gate => Item(ListMark.Box, 0, gate, side, Small))),
            .. piece.Checks.Count == 0 ? [] : Text([("What good looks like", Face.TextBold)], side, Small),
            .. piece.Checks.SelectMany(check => Item(ListMark.Box, 0, check, side, Small)),
            .. piece.Blanks.Chunk(2).Select(pair => Strip.Beside(pair.Select((label, index) => (index * (side + 2) / 2,
                (IEnumerable<Strip>)[Blank(label, (side - 2) / 2)]))))];
        var whole = Strip.Stacked([.. rule, Strip.Beside((0, hanging), (time + gap, left), (width - side, right)),
            Strip.Space(1 * Scale)]);
        if (whole.Height <= MaxHeight) return [whole];
        var from = time + gap;
        return [Strip.Stacked([.. rule, Strip.Beside((0, hanging), (from, left.Take(1)))]) with { KeepsWithNext = true },
            .. left.Skip(1).Concat(right).Select(strip => Strip.Beside((from, [strip])))];
    }

    private IReadOnlyList<Strip> Steps(IReadOnlyList<string> steps, double width) => RunsOn
        ? Text(steps.SelectMany((step, index) => (IEnumerable<(string, Face)>)
            [(NumberOf(index + 1), Face.TextBold), ($" {step} ", Face.Text)]), width, Body)
        : [.. steps.SelectMany((step, index) => Item(ListMark.Number, index + 1, step, width, Body))];

    private static string NumberOf(int step) => string.Create(CultureInfo.InvariantCulture, $"{step}.");

    private Strip Blank(string label, double width)
    {
        var (size, height) = (Points(Small), WritingHeight * Scale);
        var marks = Text([(label, Face.Text)], width, Small) is [var first, ..] ? first.Marks : [];
        var from = Math.Min(width * 0.7, Typefaces.Width(label, Face.Text, size) + 1.5);
        var line = height - 1.2;
        return new Strip(height, [.. marks.Cast<TextMark>().Select(mark => mark with { Y = line }),
            new LineMark(from, line, width, line, 0.2)]);
    }

    private IReadOnlyList<Strip> Halves(HalvesBlock halves, double width)
    {
        var half = (width - HalvesGap) / 2;
        var whole = Strip.Beside((0, Of(halves.Left, half)), (half + HalvesGap, Of(halves.Right, half)));
        return whole.Height <= MaxHeight ? [whole] : Of(halves.Left.Concat(halves.Right), width);
    }

    private static double ColumnWidth(double width, int columns) => (width - Column * (columns - 1)) / columns;

    /// <summary>Items in columns, each from top to bottom. Columns that are higher than most of a side break by rows.</summary>
    private IReadOnlyList<Strip> Columns(IReadOnlyList<IReadOnlyList<Strip>> items, int columns, double width)
    {
        var each = (items.Count + columns - 1) / columns;
        if (columns == 1 || items.Count == 0) return [.. items.SelectMany(item => item)];
        var step = ColumnWidth(width, columns) + Column;
        var whole = Strip.Beside(Balanced([.. items.Select(Strip.Stacked)], columns)
            .Select((column, index) => (index * step, (IEnumerable<Strip>)column)));
        return whole.Height <= MaxHeight * 0.7 ? [whole] : [.. Enumerable.Range(0, each).Select(row => Strip.Beside(
            Enumerable.Range(0, columns).Where(column => column * each + row < items.Count)
                .Select(column => (column * step, (IEnumerable<Strip>)items[column * each + row]))))];
    }

    /// <summary>
    /// The items in their order, in as many columns, of which the highest is as low as it can be to a millimetre.
    /// </summary>
    private static IReadOnlyList<IReadOnlyList<Strip>> Balanced(IReadOnlyList<Strip> items, int columns)
    {
        for (var height = items.Sum(item => item.Height) / columns; ; height++)
        {
            var filled = new List<List<Strip>> { new() };
            foreach (var item in items)
            {
                if (filled[^1].Count > 0 && filled[^1].Sum(other => other.Height) + item.Height > height) filled.Add([]);
                filled[^1].Add(item);
            }
            if (filled.Count <= columns) return filled;
        }
    }
}
