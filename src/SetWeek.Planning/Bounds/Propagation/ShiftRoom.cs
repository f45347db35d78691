using SetWeek.Model.Time;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// One way that somebody's shift may lie in a night: it starts at From or later, at LatestFrom at the latest, ends by To,
/// and is at most MaxMinutes long. Every shift that keeps the rules lies in some room of its person-night.
/// </summary>
internal readonly record struct ShiftRoom(int From, int LatestFrom, int To, int MaxMinutes)
{
    public Span Span => new(From, To);

    /// <summary>Longest shift that fits, in minutes; not above 0 where none does.</summary>
    public int Longest => LatestFrom < From ? 0 : Math.Min(To - From, MaxMinutes);

    public ShiftRoom Within(Span span) => this with { From = Math.Max(From, span.From), To = Math.Min(To, span.To) };
}
