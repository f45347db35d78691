namespace SetWeek.Planning.Search;

/// <summary>
/// When the planner stops, and what it may use. With <see cref="Effort"/> the search is deterministic: the same week, seed and
/// effort give the same plan, byte for byte, on any machine.
/// </summary>
public sealed record SearchLimits
{
    /// <summary>Time to search at most; 10 seconds unless given. Ignored where <see cref="Effort"/> is given.</summary>
    public TimeSpan Time { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>
    /// Limit in deterministic units instead of <see cref="Time"/>; null: the clock decides. A unit is about a second of one
    /// core. The search counts the units itself.
    /// </summary>
    public double? Effort { get; init; }

    /// <summary>
    /// Threads that search at once, at least 1; 2 unless given. With more than one, one thread improves the plan and the others
    /// prove bounds. Ignored where <see cref="Effort"/> is given: a deterministic search uses one thread.
    /// </summary>
    public int Workers { get; init; } = 2;

    /// <summary>The clock that <see cref="Time"/> is measured with; the system's unless given.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>Seed of the heuristics and of the solver; any number gives valid plans.</summary>
    public int Seed { get; init; }
}
