namespace SetWeek.Model.Time;

/// <summary>A stretch of time, in minutes since the first night opens; To is not in it.</summary>
public readonly record struct Span(int From, int To)
{
    public int Minutes => To - From;
    public bool Overlaps(Span other) => From < other.To && other.From < To;
    public bool Contains(Span other) => From <= other.From && other.To <= To;
}
