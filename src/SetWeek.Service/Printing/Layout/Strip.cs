namespace SetWeek.Service.Printing.Layout;

/// <summary>Something as wide as the sheet that no side breaks. Its marks are placed from its upper left corner.</summary>
/// <param name="KeepsWithNext">Whether the next strip has to stand on the same side, as after a heading.</param>
/// <param name="Repeats">The head of a table: printed again where the strip begins a side.</param>
public sealed record Strip(double Height, IReadOnlyList<PaperMark> Marks, bool KeepsWithNext = false, Strip? Repeats = null)
{
    public static Strip Space(double height) => new(height, []);

    /// <summary>The strips as one, each under the one before.</summary>
    public static Strip Stacked(IEnumerable<Strip> strips)
    {
        var (height, marks) = (0.0, new List<PaperMark>());
        foreach (var strip in strips)
        {
            marks.AddRange(strip.Marks.Select(mark => mark.Moved(0, height)));
            height += strip.Height;
        }
        return new Strip(height, marks);
    }

    /// <summary>Columns of strips as one strip.</summary>
    public static Strip Beside(params IEnumerable<(double X, IEnumerable<Strip> Strips)> columns)
    {
        var stacked = columns.Select(column => (column.X, Strip: Stacked(column.Strips))).ToList();
        return new Strip(stacked.Select(column => column.Strip.Height).DefaultIfEmpty().Max(),
            [.. stacked.SelectMany(column => column.Strip.Marks.Select(mark => mark.Moved(column.X, 0)))]);
    }
}
