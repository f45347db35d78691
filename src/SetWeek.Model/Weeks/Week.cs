using NodaTime;
using SetWeek.Model.Files;

namespace SetWeek.Model.Weeks;

/// <summary>
/// What the planner reads: a week file (docs/formats.md). Lengths are whole minutes; times are store-local, to the minute,
/// read in the store's zone. A value of this type that came from <see cref="WeekFile"/> is valid.
/// </summary>
public sealed record Week
{
    public required string Id { get; init; }
    public required string Currency { get; init; }
    public int GridMinutes { get; init; } = 5;
    public required LocalDateTime Launch { get; init; }
    public required Store Store { get; init; }
    public required IReadOnlyList<Night> Nights { get; init; }
    public required IReadOnlyList<CrewMember> Crew { get; init; }
    public IReadOnlyList<Kit> Kits { get; init; } = [];
    public required IReadOnlyList<Display> Displays { get; init; }
    public required IReadOnlyList<WeekTask> Tasks { get; init; }
    public required RuleSet Rules { get; init; }
    public IReadOnlyList<GoalChoice> Goals { get; init; } = DefaultGoals;
    public IReadOnlyList<GoalChoice> ReplanGoals { get; init; } = DefaultReplanGoals;

    public static IReadOnlyList<GoalChoice> DefaultGoals { get; } =
        [new(GoalId.LeftOut), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish), new(GoalId.Moves)];

    public static IReadOnlyList<GoalChoice> DefaultReplanGoals { get; } =
        [new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish)];
}

/// <summary>The place that is worked on: one clock, its parts, and what it has to work with.</summary>
public sealed record Store
{
    public required string Id { get; init; }

    /// <summary>IANA zone id, e.g. "Europe/London".</summary>
    public required string TimeZone { get; init; }

    public IReadOnlyList<Zone> Zones { get; init; } = [];
    public IReadOnlyList<Equipment> Equipment { get; init; } = [];
}

/// <summary>A part of the store. MaxPeople at once, null where any number fits; CleanDown null: nobody cleans it down.</summary>
public sealed record Zone(string Id, string Name, int? MaxPeople = null, ZoneCleanDown? CleanDown = null);

/// <summary>
/// What a zone takes each night that it was worked in, before the store trades again. Minutes of one crew at it.
/// </summary>
public sealed record ZoneCleanDown(int Minutes, IReadOnlyList<SkillRequirement> Roles);

/// <summary>A kind of equipment, and how many of it there are.</summary>
public sealed record Equipment(string Id, int Count);

/// <summary>The hours between close and open in which the store is worked on. Half-open; bans lie inside it.</summary>
public sealed record Night(string Id, LocalDateTime Opens, LocalDateTime Closes)
{
    public IReadOnlyList<Ban> Bans { get; init; } = [];
}

/// <summary>No stint of a task with this trait may overlap the time given.</summary>
public sealed record Ban(string Trait, LocalDateTime From, LocalDateTime To);

/// <summary>Somebody who may work in the set week.</summary>
public sealed record CrewMember
{
    public required string Id { get; init; }
    public required string Name { get; init; }

    /// <summary>Skill to level, 1 to 3.</summary>
    public required IReadOnlyDictionary<string, int> Skills { get; init; }

    public bool Keyholder { get; init; }
    public bool Under18 { get; init; }

    /// <summary>Minor units of the week's currency an hour.</summary>
    public required int RatePerHour { get; init; }

    public IReadOnlyList<Availability> Available { get; init; } = [];
    public IReadOnlyList<Commitment> Commitments { get; init; } = [];
    /// <summary>Minutes of a shift, breaks in it; null: only the rules say.</summary>
    public int? MaxMinutesPerNight { get; init; }
    public int? MaxNights { get; init; }

    /// <summary>Worked in this pay week before the first night; counted towards overtime.</summary>
    public int MinutesAlready { get; init; }

    /// <summary>No file asks for it: a rule that does not bind this person while a conflict is looked for.</summary>
    internal RuleExemptions Exemptions { get; init; }
}

/// <summary>Rules of which one person can be excused, to see whether a week would have a plan then.</summary>
[Flags]
internal enum RuleExemptions { None = 0, Rest = 1, Breaks = 2, ShiftLength = 4, YoungWorker = 8 }

/// <summary>When somebody can work in a night; no From or To means from its opens, or to its closes.</summary>
public sealed record Availability(string Night, LocalDateTime? From = null, LocalDateTime? To = null);

/// <summary>Time that belongs to something else: a day shift, college.</summary>
public sealed record Commitment(LocalDateTime From, LocalDateTime To);

/// <summary>What is shipped for one store. No Eta means that nobody knows when it comes.</summary>
public sealed record Kit(string Id, string Name, LocalDateTime? Eta)
{
    public IReadOnlyList<KitLine> Lines { get; init; } = [];
}

/// <summary>One line of a kit's list. Not counted (Received absent) it is taken as complete.</summary>
public sealed record KitLine(string Item, int Expected)
{
    public int? Received { get; init; }
    public int? Damaged { get; init; }

    /// <summary>Somebody has decided to go on with what there is.</summary>
    public bool Settled { get; init; }
}

/// <summary>Something that is to stand, built by the tasks that name it.</summary>
public sealed record Display(string Id, string Name, DisplayCommitment Commitment)
{
    /// <summary>1 to 100 for a want; 0 for a must.</summary>
    public int Value { get; init; }

    public Alternate? Alternate { get; init; }
}

/// <summary>A must stands, or its alternate does; a want is left out where it costs too much of what matters more.</summary>
public enum DisplayCommitment { Must, Want }

/// <summary>What is built instead where the display cannot be, and what that costs in value.</summary>
public sealed record Alternate(string Display, int Value);

/// <summary>A piece of work for a display, in a zone.</summary>
public sealed record WeekTask
{
    public required string Id { get; init; }
    public required string Name { get; init; }
    public required string Display { get; init; }
    public required string Zone { get; init; }
    public required IReadOnlyList<Mode> Modes { get; init; }

    /// <summary>Into how many equal parts the task is split, each done in one go.</summary>
    public int Stints { get; init; } = 1;

    public IReadOnlyList<TaskPrecedence> After { get; init; } = [];
    public IReadOnlyList<KitRequirement> Needs { get; init; } = [];
    public IReadOnlyList<string> Traits { get; init; } = [];

    /// <summary>The night by whose closes the task must be done.</summary>
    public string? Due { get; init; }

    /// <summary>Everything else is done before it: the final floor clean. One task of a week at most.</summary>
    public bool Last { get; init; }

    /// <summary>Nobody works in its zone for so long after it; 0: it closes nothing.</summary>
    public int ClosesZoneMinutes { get; init; }
    public Estimate? Estimate { get; init; }
    public IReadOnlyList<string> Checks { get; init; } = [];
    public IReadOnlyList<string> Steps { get; init; } = [];
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>One way of doing a task. Minutes are those of the whole task; a mode without roles needs nobody.</summary>
public sealed record Mode(int Minutes, IReadOnlyList<SkillRequirement> Roles)
{
    public IReadOnlyList<EquipmentUse> Equipment { get; init; } = [];
}

/// <summary>People that a mode takes: so many with the skill, each of that level or above.</summary>
public sealed record SkillRequirement(string Skill, int People)
{
    public int Level { get; init; } = 1;
}

/// <summary>So many of a kind of equipment, for as long as the work takes.</summary>
public sealed record EquipmentUse(string Id, int Count);

/// <summary>A task that ends before this one starts.</summary>
public sealed record TaskPrecedence(string Task)
{
    /// <summary>Elapsed minutes between its end and the start of this one, the day included.</summary>
    public int DryMinutes { get; init; }

    /// <summary>This one is worked in the night in which that one ends.</summary>
    public bool SameNight { get; init; }
}

/// <summary>A kit that must be in before the task starts; no Item means all of it.</summary>
public sealed record KitRequirement(string Kit)
{
    public string? Item { get; init; }
    public int Count { get; init; } = 1;
}

/// <summary>Minutes at best and at worst; the minutes of mode 0 are the most likely.</summary>
public sealed record Estimate(int Optimistic, int Pessimistic);

/// <summary>The numbers of the rules. One that is absent does not apply.</summary>
public sealed record RuleSet
{
    public int? MinRestMinutes { get; init; }
    public int? JoinMinutes { get; init; }
    public int? MinShiftMinutes { get; init; }
    public int? MaxShiftMinutes { get; init; }
    public int? ShiftGridMinutes { get; init; }
    public int? BreakAfterMinutes { get; init; }
    public int? BreakMinutes { get; init; }
    public int? MinPeople { get; init; }
    public bool KeyholderPresent { get; init; }
    public int? OpeningMinutes { get; init; }
    public int? ClosingMinutes { get; init; }
    public int? OvertimeAfterMinutes { get; init; }
    public int? OvertimePercent { get; init; }
    public int? LaunchBufferMinutes { get; init; }
    public int? NoticeMinutes { get; init; }
    public int? ReservePercent { get; init; }
    public Under18Rules? Under18 { get; init; }
}

/// <summary>Where a number is given it replaces the adult one for the under-18s.</summary>
public sealed record Under18Rules
{
    public LocalTime? Until { get; init; }
    public IReadOnlyList<string> Barred { get; init; } = [];
    public int? MinRestMinutes { get; init; }
    public int? MaxShiftMinutes { get; init; }
    public int? BreakAfterMinutes { get; init; }
    public int? BreakMinutes { get; init; }
}

/// <summary>A goal asked for; it may end TolerancePercent above its best for the sake of those after it.</summary>
public sealed record GoalChoice(GoalId Goal, int TolerancePercent = 0)
{
    /// <summary>The most that it may end at where <paramref name="best"/> is the least possible, rounded down.</summary>
    public long LargestAllowed(long best) => best + best * TolerancePercent / 100;
}
