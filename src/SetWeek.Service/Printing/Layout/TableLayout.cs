using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Sheets;

namespace SetWeek.Service.Printing.Layout;

/// <summary>Makes strips of a table: its head, and one for each row.</summary>
internal static class TableLayout
{
    /// <summary>In points. Heads have the least size, so they stay as they are where the rows get smaller.</summary>
    private const double Body = 11, Head = BlockLayout.LeastPoints;

    private const double CellGap = 1.6, Padding = 0.45, LeastPadding = 0.25, TallRow = 7.5, LeastShare = 18;

    public static IEnumerable<Strip> Of(TableBlock table, double width, double scale)
    {
        var widths = Widths(table.Columns, width, scale);
        var head = HeadOf(table.Columns, widths, width);
        if (table.Rows.Count == 0) return [head];
        return [head with { KeepsWithNext = true },
            .. table.Rows.Select(row => RowOf(table.Columns, row, widths, width, scale) with { Repeats = head })];
    }

    /// <summary>Fixed widths follow the scale. If they leave the others too little, all are made narrower alike.</summary>
    private static double[] Widths(IReadOnlyList<PaperColumn> columns, double width, double scale)
    {
        var shared = columns.Count(column => column.Width == 0);
        var taken = columns.Sum(column => column.Width) * scale;
        var share = shared == 0 ? 0 : Math.Max(LeastShare * scale, (width - taken) / shared);
        var shrink = Math.Min(1, width / (taken + share * shared));
        return [.. columns.Select(column => (column.Width == 0 ? share : column.Width * scale) * shrink)];
    }

    private static Strip HeadOf(IReadOnlyList<PaperColumn> columns, double[] widths, double width)
    {
        var line = Head * 1.1 * Typefaces.Point;
        var cells = columns.Select((column, index) =>
            TextFlow.Lines([(column.Head, Face.Text)], widths[index] - CellGap, Head)).ToList();
        var most = Math.Max(1, cells.Max(cell => cell.Count));
        var height = most * line + 2 * Padding;
        var marks = new List<PaperMark> { new LineMark(0, height, width, height, 0.4) };
        var x = 0.0;
        foreach (var (index, cell) in cells.Index())
        {
            marks.AddRange(Marks(cell, x + Inset(columns[index]), Padding + (most - cell.Count) * line, line, Head));
            x += widths[index];
        }
        return new Strip(height, marks);
    }

    private static Strip RowOf(IReadOnlyList<PaperColumn> columns, PaperRow row, double[] widths, double width, double scale)
    {
        var size = Body * scale;
        var line = size * BlockLayout.LeadingOf(scale) * Typefaces.Point;
        var cells = columns.Select((column, index) => TextFlow.Lines(
            [(row.Cells[index], column.Use == ColumnUse.Strong ? Face.TextBold : Face.Text)],
            widths[index] - CellGap - Inset(column), size)).ToList();
        var padding = scale > BlockLayout.Closest ? Padding * scale : LeastPadding;
        var height = Math.Max(row.IsTall ? TallRow * scale : 0, Math.Max(1, cells.Max(cell => cell.Count)) * line + 2 * padding);
        var marks = new List<PaperMark> { new LineMark(0, height, width, height, 0.2) };
        var x = 0.0;
        foreach (var (index, cell) in cells.Index())
        {
            var column = columns[index];
            marks.AddRange(Marks(cell, x + Inset(column), padding, line, size));
            if (column.Use == ColumnUse.Blank) marks.Add(new LineMark(x, 0, x, height, 0.2));
            if (column.Use == ColumnUse.Box) marks.Add(new TickBox(x + 1.5, (height - 3.4 * scale) / 2, 3.4 * scale));
            x += widths[index];
        }
        return new Strip(height, marks);
    }

    /// <summary>The line at the left of a blank column keeps a distance to the text.</summary>
    private static double Inset(PaperColumn column) => column.Use is ColumnUse.Blank ? 0.8 : 0;

    private static IEnumerable<PaperMark> Marks(
        IReadOnlyList<IReadOnlyList<TextFlow.Run>> lines, double x, double top, double line, double size) =>
        lines.SelectMany((runs, index) => runs.Select(run =>
            new TextMark(x + run.X, top + line * (index + 0.79), run.Face, size, run.Text)));
}
