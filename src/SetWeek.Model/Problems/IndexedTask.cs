using System.Collections.Frozen;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>A task of the week with its ids replaced by indexes and its times by minutes since the first night opens.</summary>
public sealed record IndexedTask
{
    /// <summary>Position in <see cref="Problem.Tasks"/>.</summary>
    public required int Index { get; init; }

    /// <summary>Id in the week file.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>Index of the display that it helps to build.</summary>
    public required int Display { get; init; }

    /// <summary>Index of its zone.</summary>
    public required int Zone { get; init; }

    /// <summary>Index of its first stint in <see cref="Problem.Stints"/>; the others follow it.</summary>
    public required int FirstStint { get; init; }

    /// <summary>Number of its stints, at least 1.</summary>
    public required int StintCount { get; init; }

    /// <summary>Index of its last stint in <see cref="Problem.Stints"/>.</summary>
    public int LastStint => FirstStint + StintCount - 1;

    /// <summary>Its modes, with the duration of one stint.</summary>
    public required IReadOnlyList<ActivityMode> Modes { get; init; }

    /// <summary>Its predecessors.</summary>
    public required IReadOnlyList<Precedence> Precedences { get; init; }

    /// <summary>Traits that bans and young-worker rules refer to.</summary>
    public required FrozenSet<string> Traits { get; init; }

    /// <summary>
    /// Of the requirements for company that its traits meet, the one with most people; null if it needs no company.
    /// </summary>
    public required CompanyRequirement? Company { get; init; }

    /// <summary>
    /// Release time in minutes: no stint starts before it, because a kit has not arrived. <see cref="Problem.Never"/> if a
    /// kit bars the task.
    /// </summary>
    public required int Release { get; init; }

    /// <summary>Minute by which its last stint ends; <see cref="Problem.Never"/> if it has no due night.</summary>
    public required int Due { get; init; }

    /// <summary>True if all other work of the week ends before it starts.</summary>
    public required bool IsLastTask { get; init; }

    /// <summary>True if the end of its first stint leaves its zone bare.</summary>
    public required bool Empties { get; init; }

    /// <summary>True if its zone sells again only after its last stint.</summary>
    public required bool Fills { get; init; }

    /// <summary>Minutes after its last stint in which its zone is closed to other work; 0 means none.</summary>
    public required int ClosesZoneMinutes { get; init; }
}

/// <summary>A part of a task that is done without interruption.</summary>
/// <param name="Index">Position in <see cref="Problem.Stints"/>.</param>
/// <param name="Task">The task that it is a part of.</param>
/// <param name="Number">Its number within the task, from 1.</param>
public sealed record Stint(int Index, IndexedTask Task, int Number)
{
    /// <summary>True for the last stint of the task.</summary>
    public bool IsLast => Number == Task.StintCount;
}

/// <summary>A mode of a stint, or of a clean-down: its duration and its resource demand.</summary>
/// <param name="Minutes">Duration in minutes, rounded up to the grid.</param>
/// <param name="RequiredSkills">The people that it takes, for its whole duration.</param>
/// <param name="Equipment">The equipment that it uses, for its whole duration.</param>
public sealed record ActivityMode(
    int Minutes, IReadOnlyList<RequiredSkill> RequiredSkills, IReadOnlyList<EquipmentDemand> Equipment)
{
    /// <summary>Number of people that it takes.</summary>
    public int People { get; } = RequiredSkills.Sum(requirement => requirement.People);
}

/// <summary>A demand for people of one skill.</summary>
/// <param name="Skill">Index of the skill in <see cref="Problem.Skills"/>.</param>
/// <param name="Level">Lowest level that each of them has.</param>
/// <param name="People">Number of people.</param>
public readonly record struct RequiredSkill(int Skill, int Level, int People);

/// <summary>A demand for equipment of one kind.</summary>
/// <param name="Equipment">Index of the kind in <see cref="Problem.EquipmentCapacities"/>.</param>
/// <param name="Count">Number of pieces.</param>
public readonly record struct EquipmentDemand(int Equipment, int Count);

/// <summary>
/// A finish-to-start precedence with a minimum time lag: every stint starts after the predecessor's last stint.
/// </summary>
/// <param name="Predecessor">Index of the predecessor in <see cref="Problem.Tasks"/>.</param>
/// <param name="LagMinutes">Minimum lag in elapsed minutes.</param>
/// <param name="SameNight">True if every stint lies in the night of the predecessor's last stint.</param>
public readonly record struct Precedence(int Predecessor, int LagMinutes, bool SameNight);
