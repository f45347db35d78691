using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

internal enum SimulatedActivityKind
{
    /// <summary>A stint still to come.</summary>
    Stint,

    /// <summary>A stint or clean-down that is done or under way: it starts when it did.</summary>
    Begun,

    CleanDown,

    /// <summary>
    /// A clean-down that the plan does not have, for a zone that work is put off into: it is done where there was such work.
    /// </summary>
    AddedCleanDown,

    Break,
}

/// <summary>
/// Something that is done in a night, as a run works it: what it waits for, whom and what it takes. Times are minutes as in
/// <see cref="Problem"/>; pieces are numbered in the order in which they are worked.
/// </summary>
internal sealed record SimulatedActivity
{
    public required SimulatedActivityKind Kind { get; init; }

    /// <summary>The night that it is planned for.</summary>
    public required int Night { get; init; }

    public required int PlannedFrom { get; init; }

    public required int PlannedTo { get; init; }

    /// <summary>-1: of no task.</summary>
    public int Task { get; init; } = -1;

    public int Stint { get; init; } = -1;

    /// <summary>-1: in no zone.</summary>
    public int Zone { get; init; } = -1;

    public IReadOnlyList<int> People { get; init; } = [];
    public required SimulatedDuration Duration { get; init; }

    /// <summary>Not before this, in whatever night.</summary>
    public required float ReleaseTime { get; init; }

    /// <summary>Pieces that end before it starts.</summary>
    public IReadOnlyList<SimulatedPrecedence> Predecessors { get; init; } = [];

    /// <summary>Equipment, and places in its zone.</summary>
    public IReadOnlyList<ResourceDemand> Demands { get; init; } = [];

    /// <summary>By night: when its traits are barred.</summary>
    public IReadOnlyList<IReadOnlyList<Span>> Bans { get; init; } = [];

    /// <summary>The piece in whose night it lies; -1: in any.</summary>
    public int SameNightAs { get; init; } = -1;

    /// <summary>Most likely minutes of what has to follow in the same night.</summary>
    public float Tail { get; init; }

    /// <summary>Minutes until the clean-down that its zone needs after it can end.</summary>
    public float CleanDownTail { get; init; }

    /// <summary>The final floor clean: after all else.</summary>
    public bool Last { get; init; }

    /// <summary>By night: who could do it there; null: nobody. Empty lists of people for work that needs none.</summary>
    public IReadOnlyList<EligibleCrew?> EligibleCrewByNight { get; init; } = [];

    public float MostLikelyMinutes => (float)Duration.MostLikely;

    public bool IsWork => Kind != SimulatedActivityKind.Break;

    public bool IsCleanDown => Kind is SimulatedActivityKind.CleanDown or SimulatedActivityKind.AddedCleanDown;
}

/// <summary>The piece starts at the end of that one at the soonest, and so many minutes later.</summary>
internal readonly record struct SimulatedPrecedence(int Predecessor, float Lag);

/// <summary>So many units of a pool.</summary>
internal readonly record struct ResourceDemand(int Resource, int Count);

/// <summary>Who does a piece in a night: in each place those who could, the planned person alone where they are there.</summary>
internal sealed record EligibleCrew(IReadOnlyList<IReadOnlyList<int>> Positions);
