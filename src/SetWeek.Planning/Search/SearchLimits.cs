namespace SetWeek.Planning.Search;

/// <summary>
/// How long to look, and with what. Effort is deterministic: same week, seed, effort and one worker, same plan byte for byte.
/// </summary>
public sealed record SearchLimits
{
    public TimeSpan Time { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Deterministic units instead of <see cref="Time"/>; about a second of one core each.</summary>
    public double? Effort { get; init; }

    public int Workers { get; init; } = 2;
    public int Seed { get; init; }
}
