using System.Collections.Frozen;

namespace SetWeek.Model.Problems;

/// <summary>A task, ids resolved ("activity" in the scheduling literature; Task is taken in .NET).</summary>
public sealed record IndexedTask
{
    public required int Index { get; init; }
    public required string Id { get; init; }
    public required string Name { get; init; }
    public required int Display { get; init; }
    public required int Zone { get; init; }

    /// <summary>Its stints are those from here in <see cref="Problem.Stints"/>.</summary>
    public required int FirstStint { get; init; }

    public required int StintCount { get; init; }
    public int LastStint => FirstStint + StintCount - 1;
    public required IReadOnlyList<ActivityMode> Modes { get; init; }
    public required IReadOnlyList<Precedence> Precedences { get; init; }
    public required FrozenSet<string> Traits { get; init; }

    /// <summary>Minute from which every kit it needs is in; <see cref="Problem.Never"/> where a kit bars it.</summary>
    public required int Release { get; init; }

    /// <summary>Minute by which it ends; <see cref="Problem.Never"/> where it has no due.</summary>
    public required int Due { get; init; }

    public required bool IsLastTask { get; init; }

    /// <summary>Minutes after its last stint in which its zone stays closed; 0 for none.</summary>
    public required int ClosesZoneMinutes { get; init; }
}

/// <summary>A part of a task done in one go; Number counts from 1.</summary>
public sealed record Stint(int Index, IndexedTask Task, int Number)
{
    public bool IsLast => Number == Task.StintCount;
}

/// <summary>
/// One way of doing a stint (a mode of its task) or a clean-down: its length on the grid, in minutes, and what it takes.
/// </summary>
public sealed record ActivityMode(int Minutes, IReadOnlyList<RequiredSkill> RequiredSkills, IReadOnlyList<EquipmentDemand> Equipment)
{
    public int People { get; } = RequiredSkills.Sum(post => post.People);
}

/// <summary>People wanted of one skill, at a level or above.</summary>
public readonly record struct RequiredSkill(int Skill, int Level, int People);

/// <summary>So many of a piece of equipment, by its index.</summary>
public readonly record struct EquipmentDemand(int Equipment, int Count);

/// <summary>This task starts no earlier than the end of that one, plus its drying; same night where asked.</summary>
public readonly record struct Precedence(int Predecessor, int LagMinutes, bool SameNight);
