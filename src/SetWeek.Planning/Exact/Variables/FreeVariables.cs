using SetWeek.Model.Problems;

namespace SetWeek.Planning.Exact.Variables;

/// <summary>
/// Which decisions of the exact model are free. The others are fixed to a base plan. With it the same constraints serve a whole
/// week, a neighbourhood of a plan, and a roster alone. A null array frees every decision of its kind.
/// </summary>
internal sealed record FreeVariables
{
    /// <summary>Gives the values of the decisions that are not free.</summary>
    public required Schedule BaseSchedule { get; init; }

    /// <summary>By display: whether it is placed is free.</summary>
    public bool[]? Displays { get; init; }

    /// <summary>By stint: mode, night and start are free.</summary>
    public bool[]? Stints { get; init; }

    /// <summary>By stint: its people are free.</summary>
    public bool[]? People { get; init; }

    /// <summary>
    /// By night: free stints may move into it, and its clean-downs are free. A free stint may always stay in its own night.
    /// </summary>
    public bool[]? Nights { get; init; }

    /// <summary>By person and night: the shift is free.</summary>
    public bool[,]? Shifts { get; init; }
}
