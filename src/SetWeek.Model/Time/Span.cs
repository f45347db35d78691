namespace SetWeek.Model.Time;

/// <summary>A half-open interval of time, in minutes since the first night opens.</summary>
/// <param name="From">First minute.</param>
/// <param name="To">End, not included.</param>
public readonly record struct Span(int From, int To)
{
    /// <summary>Length in minutes.</summary>
    public int Minutes => To - From;

    /// <summary>True if the two intervals share some time. Intervals that only touch do not.</summary>
    public bool Overlaps(Span other) => From < other.To && other.From < To;

    /// <summary>The part within another interval; it ends before it begins where the two do not overlap.</summary>
    public Span Clip(Span other) => new(Math.Max(From, other.From), Math.Min(To, other.To));

    /// <summary>True if the other interval lies within this one.</summary>
    public bool Contains(Span other) => From <= other.From && other.To <= To;
}
