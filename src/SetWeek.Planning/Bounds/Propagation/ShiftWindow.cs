using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// One way that somebody's shift may lie in a night: it starts at From or later, at LatestFrom at the latest, ends by To,
/// and is at most MaxMinutes long. Every shift that keeps the rules lies in some room of its person-night.
/// </summary>
internal readonly record struct ShiftWindow(int EarliestStart, int LatestStart, int LatestEnd, int MaxMinutes)
{
    public Span Span => new(EarliestStart, LatestEnd);

    /// <summary>Longest shift that fits, in minutes; not above 0 where none does.</summary>
    public int Longest => LatestStart < EarliestStart ? 0 : Math.Min(LatestEnd - EarliestStart, MaxMinutes);

    public ShiftWindow Within(Span span) => this with { EarliestStart = Math.Max(EarliestStart, span.From), LatestEnd = Math.Min(LatestEnd, span.To) };
}
