namespace SetWeek.Model.Time;

/// <summary>A night in minutes since the first one opens, with the times in which some kinds of work are barred.</summary>
public sealed record NightWindow(int Index, string Id, int Opens, int Closes, IReadOnlyList<BanSpan> Bans)
{
    public Span Span => new(Opens, Closes);
}

/// <summary>No work with that trait in that time.</summary>
public readonly record struct BanSpan(string Trait, Span Span);
