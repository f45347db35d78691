using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// What the exact model may decide and what stays as it is in a plan: one set of constraints then serves a whole week, a
/// neighbourhood of a plan and a roster alone. Null arrays: everything of that kind is free.
/// </summary>
internal sealed record FreeVariables
{
    /// <summary>What is not free is as here.</summary>
    public required Schedule BaseSchedule { get; init; }

    /// <summary>By display: may be placed or left out.</summary>
    public bool[]? Displays { get; init; }

    /// <summary>By stint: mode, night and start are free.</summary>
    public bool[]? Stints { get; init; }

    /// <summary>By stint: its people are free.</summary>
    public bool[]? People { get; init; }

    /// <summary>By night: free stints may lie in it, beside the night where they are; its clean-downs are free.</summary>
    public bool[]? Nights { get; init; }

    /// <summary>By person and night: the shift is free.</summary>
    public bool[,]? Shifts { get; init; }
}
