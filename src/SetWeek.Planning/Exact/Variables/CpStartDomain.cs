namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// The possible starts of an activity in one night and one mode, in the model's units: closed ranges, whose values are multiples
/// of <see cref="Stride"/> after the night opens. Rules remove starts from it before the model is closed.
/// </summary>
/// <param name="from">First start.</param>
/// <param name="to">Last start.</param>
/// <param name="opens">When the night opens.</param>
internal sealed class CpStartDomain(long from, long to, long opens)
{
    private List<(long From, long To)> ranges = from <= to ? [(from, to)] : [];

    /// <summary>Units between two starts, counted from the opening of the night.</summary>
    public long Stride { get; private set; } = 1;

    public bool Empty => ranges.Count == 0;
    public long Min => ranges[0].From;
    public long Max => ranges[^1].To;

    public void AtLeast(long moment) => Remove(long.MinValue, moment - 1);

    public void AtMost(long moment) => Remove(moment + 1, long.MaxValue);

    /// <summary>Removes a closed range.</summary>
    public void Remove(long first, long last)
    {
        if (first > last || Empty || last < Min || first > Max) return;
        var remaining = new List<(long, long)>(ranges.Count + 1);
        foreach (var range in ranges)
        {
            if (range.To < first || range.From > last)
            {
                remaining.Add(range);
                continue;
            }
            if (range.From < first) AddSnapped(remaining, range.From, first - 1);
            if (range.To > last) AddSnapped(remaining, last + 1, range.To);
        }
        ranges = remaining;
    }

    /// <summary>Keeps only the multiples of a stride after the opening of the night, now and in later removals.</summary>
    public void SetStride(long stride)
    {
        Stride = stride;
        var before = ranges;
        ranges = [];
        foreach (var range in before) AddSnapped(ranges, range.From, range.To);
    }

    /// <summary>The starts as closed intervals; single values where the stride is more than one unit.</summary>
    public IEnumerable<(long From, long To)> Intervals() => Stride == 1
        ? ranges
        : ranges.SelectMany(range => Values(range.From, range.To).Select(moment => (moment, moment)));

    private IEnumerable<long> Values(long first, long last)
    {
        for (var moment = first; moment <= last; moment += Stride) yield return moment;
    }

    /// <summary>Adds a range, its ends rounded inwards to the stride. Adds nothing where no multiple lies in it.</summary>
    private void AddSnapped(List<(long, long)> list, long first, long last)
    {
        first = opens + (first - opens + Stride - 1) / Stride * Stride;
        last = opens + (last - opens) / Stride * Stride;
        if (first <= last) list.Add((first, last));
    }
}
