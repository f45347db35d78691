using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Simulation;

internal enum SimulatedActivityKind
{
    /// <summary>A stint that has not begun.</summary>
    Stint,

    /// <summary>A stint or clean-down that is done or under way; its start is a fact.</summary>
    Begun,

    /// <summary>A planned clean-down; it is done in the runs that work in its zone that night.</summary>
    CleanDown,

    /// <summary>
    /// A clean-down that is not in the plan. It is done in the simulation runs in which work is postponed to its zone and night.
    /// </summary>
    AddedCleanDown,

    /// <summary>A person's planned break.</summary>
    Break,
}

/// <summary>
/// An activity of the simulated network: its predecessors, its people and its resource demands. Times are minutes as in
/// <see cref="Problem"/>. Activities are numbered in the order in which a run takes them.
/// </summary>
internal sealed record SimulatedActivity
{
    public required SimulatedActivityKind Kind { get; init; }

    /// <summary>The planned night.</summary>
    public required int Night { get; init; }

    public required int PlannedFrom { get; init; }

    public required int PlannedTo { get; init; }

    /// <summary>-1: it belongs to no task.</summary>
    public int Task { get; init; } = -1;

    public int Stint { get; init; } = -1;

    /// <summary>-1: it takes place in no zone.</summary>
    public int Zone { get; init; } = -1;

    public IReadOnlyList<int> People { get; init; } = [];
    public required SimulatedDuration Duration { get; init; }

    /// <summary>The earliest start in any night.</summary>
    public required float ReleaseTime { get; init; }

    /// <summary>Activities that must end before it starts.</summary>
    public IReadOnlyList<SimulatedPrecedence> Predecessors { get; init; } = [];

    /// <summary>Demands for equipment and for places in its zone.</summary>
    public IReadOnlyList<ResourceDemand> Demands { get; init; } = [];

    /// <summary>By night: the spans in which one of its traits is banned.</summary>
    public IReadOnlyList<IReadOnlyList<Span>> Bans { get; init; } = [];

    /// <summary>The activities that it secures: it must be done in their night. None: it may be done in any night.</summary>
    public int[] SameNightAs { get; init; } = [];

    /// <summary>Most likely minutes of the activities that must follow in the same night.</summary>
    public float Tail { get; init; }

    /// <summary>Minutes from its end to the earliest end of the clean-down of its zone; 0 if there is none.</summary>
    public float CleanDownTail { get; init; }

    /// <summary>True for the final floor clean, which comes after all other work.</summary>
    public bool Last { get; init; }

    /// <summary>
    /// By night: the people who could do it; null if it cannot be staffed. Work without people has no positions.
    /// </summary>
    public IReadOnlyList<EligibleCrew?> EligibleCrewByNight { get; init; } = [];

    public float MostLikelyMinutes => (float)Duration.MostLikely;

    public bool IsWork => Kind != SimulatedActivityKind.Break;

    public bool IsCleanDown => Kind is SimulatedActivityKind.CleanDown or SimulatedActivityKind.AddedCleanDown;
}

/// <summary>The activity starts at least a lag, in minutes, after the end of its predecessor.</summary>
internal readonly record struct SimulatedPrecedence(int Predecessor, float Lag);

/// <summary>A demand for a number of units of a renewable resource.</summary>
internal readonly record struct ResourceDemand(int Resource, int Count);

/// <summary>
/// The people who can do an activity in a night, by position. If the planned person of a position is on shift, they are the only
/// one.
/// </summary>
internal sealed record EligibleCrew(IReadOnlyList<IReadOnlyList<int>> Positions);
