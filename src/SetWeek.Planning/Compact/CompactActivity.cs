using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>What the search places: a stint of a task or, where Task is -1, the clean-down of a zone in a night.</summary>
internal sealed class CompactActivity
{
    /// <summary>Stints by their index in the problem, then clean-downs by zone and night.</summary>
    public required int Index { get; init; }

    public required int Task { get; init; }

    /// <summary>-1 for a clean-down.</summary>
    public required int Display { get; init; }

    public required int Zone { get; init; }

    /// <summary>Of a clean-down; -1 for a stint.</summary>
    public int CleanDownNight { get; init; } = -1;

    /// <summary>Of the task that comes after all else.</summary>
    public bool IsFinal { get; init; }

    /// <summary>Minutes after it in which its zone is shut: of a task's last stint only.</summary>
    public int ZoneClosedMinutes { get; init; }

    /// <summary>Begun before now: where and how it is, is a fact.</summary>
    public bool HasBegun { get; init; }

    /// <summary>It must leave room in its night for the zone's clean-down.</summary>
    public bool NeedsCleanDown { get; init; }

    /// <summary>Minute before which it may not start: kits, now, what blocks it.</summary>
    public int EarliestStart { get; init; }

    public CompactMode[] Modes { get; set; } = [];
    public CompactPrecedence[] Predecessors { get; set; } = [];
    public CompactPrecedence[] Successors { get; set; } = [];

    /// <summary>Minute by which it must end for what must follow it to be in time.</summary>
    public int LatestEnd { get; set; } = Problem.Never;

    /// <summary>Place in an order that keeps precedence.</summary>
    public int TopologicalRank { get; set; }

    /// <summary>Jobs that lie in one night, this among them, by rank; fixed ones not among them.</summary>
    public int[] SameNightGroup { get; set; } = [];

    /// <summary>Slots that what follows in the same night takes at the least.</summary>
    public int SameNightTail { get; set; }

    /// <summary>The night that begun work of the group lies in; -1: any.</summary>
    public int GroupNight { get; set; } = -1;
}

/// <summary>The other starts after this ends, so many minutes later at the least.</summary>
internal readonly record struct CompactPrecedence(int Activity, int Lag);

/// <summary>Somebody to be found: anyone of a set of people (a bit each), for a skill.</summary>
internal readonly record struct CompactRequirement(ulong Eligible, int Skill);

/// <summary>
/// A way of doing a job. Seats: scarcest first. Starts: by night a row of words, the slots at which it may start for all that
/// is known before anything else is placed.
/// </summary>
internal sealed record CompactMode(int ModeIndex, int DurationSlots, int DurationMinutes, CompactRequirement[] Requirements, IReadOnlyList<EquipmentDemand> Equipment, ulong[] PossibleStarts)
{
    public ulong Eligible { get; } = Requirements.Aggregate(0UL, (all, requirement) => all | requirement.Eligible);
}
