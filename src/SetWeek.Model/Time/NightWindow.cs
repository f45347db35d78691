namespace SetWeek.Model.Time;

/// <summary>A night in minutes since the first night opens.</summary>
/// <param name="Index">Position in the week, from 0.</param>
/// <param name="Id">Id of the night.</param>
/// <param name="Opens">Minute at which it opens.</param>
/// <param name="Closes">Minute at which it closes, not included.</param>
/// <param name="Bans">Times at which work with some trait is not allowed.</param>
public sealed record NightWindow(int Index, string Id, int Opens, int Closes, IReadOnlyList<BanSpan> Bans)
{
    /// <summary>The night from opens to closes.</summary>
    public Span Span => new(Opens, Closes);
}

/// <summary>A span in which work with the trait is not allowed.</summary>
/// <param name="Trait">The trait.</param>
/// <param name="Span">The span in minutes since the first night opens.</param>
public readonly record struct BanSpan(string Trait, Span Span);
