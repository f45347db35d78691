using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// A time window for one person's shift in one night: the shift starts between EarliestStart and LatestStart, ends by LatestEnd
/// and lasts at most MaxMinutes. A person-night may have several windows; every shift that keeps the rules fits one of them.
/// </summary>
internal readonly record struct ShiftWindow(int EarliestStart, int LatestStart, int LatestEnd, int MaxMinutes)
{
    public Span Span => new(EarliestStart, LatestEnd);

    /// <summary>Length of the longest shift that fits, in minutes; 0 or less where none does.</summary>
    public int Longest => LatestStart < EarliestStart ? 0 : Math.Min(LatestEnd - EarliestStart, MaxMinutes);

    public bool Admits(Span shift) => EarliestStart <= shift.From && shift.From <= LatestStart && shift.To <= LatestEnd
        && shift.Minutes <= MaxMinutes;

    public ShiftWindow Within(Span span) =>
        this with { EarliestStart = Math.Max(EarliestStart, span.From), LatestEnd = Math.Min(LatestEnd, span.To) };
}
