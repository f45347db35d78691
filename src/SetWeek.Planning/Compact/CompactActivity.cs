using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>An activity that the search places: a stint of a task, or the clean-down of a zone in a night.</summary>
internal sealed class CompactActivity
{
    /// <summary>Stints have their index in the problem; clean-downs follow by zone and night.</summary>
    public required int Index { get; init; }

    /// <summary>-1 for a clean-down.</summary>
    public required int Task { get; init; }

    /// <summary>-1 for a clean-down.</summary>
    public required int Display { get; init; }

    public required int Zone { get; init; }

    /// <summary>Night of a clean-down; -1 for a stint.</summary>
    public int CleanDownNight { get; init; } = -1;

    /// <summary>True: a stint of the last task, which follows all other tasks.</summary>
    public bool IsFinal { get; init; }

    /// <summary>Minutes after its end in which its zone is closed; 0 but for a task's last stint.</summary>
    public int ZoneClosedMinutes { get; init; }

    /// <summary>True: it began before now, so its place is fixed.</summary>
    public bool HasBegun { get; init; }

    /// <summary>True: its zone needs a clean-down after it in the same night.</summary>
    public bool NeedsCleanDown { get; init; }

    /// <summary>Minute before which it may not start: release by kits, the time of the re-plan, reported blocks.</summary>
    public int EarliestStart { get; init; }

    /// <summary>Least number of people at work in its zone while it is done, its own included; 0: any number.</summary>
    public int Company { get; init; }

    public CompactMode[] Modes { get; set; } = [];
    public CompactPrecedence[] Predecessors { get; set; } = [];
    public CompactPrecedence[] Successors { get; set; } = [];

    /// <summary>Minute by which it must end so that its certain successors can be in time.</summary>
    public int LatestEnd { get; set; } = Problem.Never;

    /// <summary>Position in a topological order of the precedence graph.</summary>
    public int TopologicalRank { get; set; }

    /// <summary>
    /// The activities that must lie in the same night as this activity, itself included, in order of rank; not those begun.
    /// </summary>
    public int[] SameNightGroup { get; set; } = [];

    /// <summary>Slots that its successors in the same night need at least.</summary>
    public int SameNightTail { get; set; }

    /// <summary>Night of the begun work of its group; -1: none has begun.</summary>
    public int GroupNight { get; set; } = -1;
}

/// <summary>An end-to-start precedence with the other activity; the lag is in minutes.</summary>
internal readonly record struct CompactPrecedence(int Activity, int Lag);

/// <summary>One required person: any of the eligible people (a bit each), for a skill.</summary>
internal readonly record struct CompactRequirement(ulong Eligible, int Skill);

/// <summary>A mode of an activity.</summary>
/// <param name="ModeIndex">Index in the problem.</param>
/// <param name="DurationSlots">Duration in slots.</param>
/// <param name="DurationMinutes">Duration in minutes.</param>
/// <param name="Requirements">One for each required person, the one with the fewest eligible people first.</param>
/// <param name="Equipment">Equipment in use throughout.</param>
/// <param name="CompanyNeeded">People of other work in the zone that it needs throughout, beside its own.</param>
/// <param name="PossibleStarts">By night a row of words: slots at which it may start in an empty schedule.</param>
internal sealed record CompactMode(int ModeIndex, int DurationSlots, int DurationMinutes, CompactRequirement[] Requirements,
    IReadOnlyList<EquipmentDemand> Equipment, int CompanyNeeded, ulong[] PossibleStarts)
{
    /// <summary>People who are eligible for some requirement, a bit each.</summary>
    public ulong Eligible { get; } = Requirements.Aggregate(0UL, (all, requirement) => all | requirement.Eligible);
}
