using SetWeek.Model.Time;

namespace SetWeek.Service.Pages.Charts;

/// <summary>Puts spans into rows so that none overlap in a row.</summary>
public static class RowPacking
{
    /// <summary>
    /// The row of each span, from 0: the first that is free. If the spans are in the order of their starts, no packing has fewer
    /// rows, because an interval graph is coloured optimally in that order.
    /// </summary>
    public static IReadOnlyList<int> Of(IReadOnlyList<Span> spans)
    {
        var (rows, result) = (new List<List<Span>>(), new List<int>());
        foreach (var span in spans)
        {
            var row = rows.FindIndex(taken => !taken.Any(span.Overlaps));
            if (row < 0)
            {
                row = rows.Count;
                rows.Add([]);
            }
            rows[row].Add(span);
            result.Add(row);
        }
        return result;
    }
}
