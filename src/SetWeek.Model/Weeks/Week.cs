using NodaTime;
using SetWeek.Model.Files;

namespace SetWeek.Model.Weeks;

/// <summary>
/// The planner's input: a week file (docs/formats.md). Lengths are whole minutes. Times are store-local, to the minute, and
/// are read in the store's time zone. A week is valid if <see cref="WeekFile"/> has read or checked it; the type itself
/// checks nothing.
/// </summary>
public sealed record Week
{
    /// <summary>Id of the week, for example "first-rain.harbour-street"; a plan refers to it.</summary>
    public required string Id { get; init; }

    /// <summary>ISO 4217 code of the currency in which all money of the week is counted, in minor units.</summary>
    public required string Currency { get; init; }

    /// <summary>
    /// Length of a time slot in minutes. The planner starts and ends work on whole slots after a night opens.
    /// </summary>
    public int GridMinutes { get; init; } = 5;

    /// <summary>Store-local time by which every display must be finished.</summary>
    public required LocalDateTime Launch { get; init; }

    /// <summary>The store in which the work is done.</summary>
    public required Store Store { get; init; }

    /// <summary>The nights in which work can be planned, in time order and without overlap.</summary>
    public required IReadOnlyList<Night> Nights { get; init; }

    /// <summary>The people who can be given shifts. Where several could be the keyholder, the first in this order is.</summary>
    public required IReadOnlyList<CrewMember> Crew { get; init; }

    /// <summary>The kits that tasks may need.</summary>
    public IReadOnlyList<Kit> Kits { get; init; } = [];

    /// <summary>The displays to build, alternates included.</summary>
    public required IReadOnlyList<Display> Displays { get; init; }

    /// <summary>The tasks that build the displays.</summary>
    public required IReadOnlyList<WeekTask> Tasks { get; init; }

    /// <summary>The parameters of the rules.</summary>
    public required RuleSet Rules { get; init; }

    /// <summary>Goals of a first plan, compared in this order, most important first.</summary>
    public IReadOnlyList<GoalChoice> Goals { get; init; } = DefaultGoals;

    /// <summary>Goals of a re-plan, compared in this order, most important first.</summary>
    public IReadOnlyList<GoalChoice> ReplanGoals { get; init; } = DefaultReplanGoals;

    /// <summary>Goals of a first plan where the week file names none.</summary>
    public static IReadOnlyList<GoalChoice> DefaultGoals { get; } =
        [new(GoalId.LeftOut), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish), new(GoalId.Moves)];

    /// <summary>Goals of a re-plan where the week file names none.</summary>
    public static IReadOnlyList<GoalChoice> DefaultReplanGoals { get; } =
        [new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish)];
}

/// <summary>The store: its time zone, its zones and its equipment.</summary>
public sealed record Store
{
    /// <summary>Id of the store.</summary>
    public required string Id { get; init; }

    /// <summary>IANA zone id, e.g. "Europe/London".</summary>
    public required string TimeZone { get; init; }

    /// <summary>The parts of the store in which tasks are done.</summary>
    public IReadOnlyList<Zone> Zones { get; init; } = [];

    /// <summary>The kinds of equipment that stints share.</summary>
    public IReadOnlyList<Equipment> Equipment { get; init; } = [];
}

/// <summary>A part of the store.</summary>
/// <param name="Id">Id of the zone.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="MaxPeople">Largest number of people at work in it at once; null means no limit.</param>
/// <param name="CleanDown">The clean-down due each night in which it was worked in; null means none.</param>
public sealed record Zone(string Id, string Name, int? MaxPeople = null, ZoneCleanDown? CleanDown = null);

/// <summary>The cleaning of a zone, once in each night in which it was worked in, before the store trades again.</summary>
/// <param name="Minutes">Length in minutes, before it is rounded up to the grid.</param>
/// <param name="Roles">The people it takes, all of them for its whole length.</param>
public sealed record ZoneCleanDown(int Minutes, IReadOnlyList<SkillRequirement> Roles);

/// <summary>A renewable resource: a kind of equipment that work uses while it runs.</summary>
/// <param name="Id">Id of the equipment.</param>
/// <param name="Count">Number of pieces that the store has.</param>
public sealed record Equipment(string Id, int Count);

/// <summary>A window in which work and shifts may be planned. Half-open: <paramref name="Closes"/> is not in it.</summary>
/// <param name="Id">Id of the night.</param>
/// <param name="Opens">Store-local start.</param>
/// <param name="Closes">Store-local end.</param>
public sealed record Night(string Id, LocalDateTime Opens, LocalDateTime Closes)
{
    /// <summary>Times within the night in which work with some trait is not allowed.</summary>
    public IReadOnlyList<Ban> Bans { get; init; } = [];
}

/// <summary>A half-open span that no stint of a task with the trait may overlap.</summary>
/// <param name="Trait">The trait, for example "noisy".</param>
/// <param name="From">Store-local start.</param>
/// <param name="To">Store-local end.</param>
public sealed record Ban(string Trait, LocalDateTime From, LocalDateTime To);

/// <summary>A person who can be given shifts and work in the set week.</summary>
public sealed record CrewMember
{
    /// <summary>Id of the person.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>Level of each skill that the person has, from 1 to 3.</summary>
    public required IReadOnlyDictionary<string, int> Skills { get; init; }

    /// <summary>True if the person can open and close the store.</summary>
    public bool Keyholder { get; init; }

    /// <summary>True if the young-worker rules apply to the person.</summary>
    public bool Under18 { get; init; }

    /// <summary>Pay in minor units of the week's currency per hour.</summary>
    public required int RatePerHour { get; init; }

    /// <summary>When the person can work. A shift lies inside one entry; a night without an entry has no shift.</summary>
    public IReadOnlyList<Availability> Available { get; init; } = [];

    /// <summary>
    /// Times at which the person is busy elsewhere. A shift overlaps none of them and keeps the rest to them.
    /// </summary>
    public IReadOnlyList<Commitment> Commitments { get; init; } = [];

    /// <summary>Longest shift in minutes, break included; null means that the rules alone limit it.</summary>
    public int? MaxMinutesPerNight { get; init; }

    /// <summary>Largest number of shifts in the week; null means no limit.</summary>
    public int? MaxNights { get; init; }

    /// <summary>Minutes worked in this pay week before the first night. They count towards overtime.</summary>
    public int MinutesAlready { get; init; }

    /// <summary>
    /// Rules that do not bind this person. The conflict search sets it to test a relaxation; no week file contains it.
    /// </summary>
    internal RuleExemptions Exemptions { get; init; }
}

/// <summary>Rules that the conflict search can relax for one person, to test whether the week then has a plan.</summary>
[Flags]
internal enum RuleExemptions { None = 0, Rest = 1, Breaks = 2, ShiftLength = 4, YoungWorker = 8 }

/// <summary>A half-open span of one night in which a person can work.</summary>
/// <param name="Night">Id of the night.</param>
/// <param name="From">Store-local start; null means the night's opens.</param>
/// <param name="To">Store-local end; null means the night's closes.</param>
public sealed record Availability(string Night, LocalDateTime? From = null, LocalDateTime? To = null);

/// <summary>A half-open span in which a person is busy elsewhere, for example on a day shift or at college.</summary>
/// <param name="From">Store-local start.</param>
/// <param name="To">Store-local end.</param>
public sealed record Commitment(LocalDateTime From, LocalDateTime To);

/// <summary>Material that is shipped to the store and that tasks need before they start.</summary>
/// <param name="Id">Id of the kit.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="Eta">Store-local arrival; null means unknown, which keeps every task that needs the kit from starting.</param>
public sealed record Kit(string Id, string Name, LocalDateTime? Eta)
{
    /// <summary>The items of the kit, each once.</summary>
    public IReadOnlyList<KitLine> Lines { get; init; } = [];
}

/// <summary>One item of a kit. A line that has not been counted is assumed to be complete.</summary>
/// <param name="Item">Name of the item, which tasks refer to.</param>
/// <param name="Expected">Pieces shipped.</param>
public sealed record KitLine(string Item, int Expected)
{
    /// <summary>Pieces counted on arrival, damaged ones included; null means not counted yet.</summary>
    public int? Received { get; init; }

    /// <summary>Damaged pieces among those received; null means none.</summary>
    public int? Damaged { get; init; }

    /// <summary>True if a person decided to work with the good pieces there are, so the line holds no task up.</summary>
    public bool Settled { get; init; }
}

/// <summary>A display to be built. The tasks that name it build it, all of them or none.</summary>
/// <param name="Id">Id of the display.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="Commitment">Whether the plan has to build it.</param>
public sealed record Display(string Id, string Name, DisplayCommitment Commitment)
{
    /// <summary>Weight in the goal leftOut: 1 to 100 for a want, 0 for a must.</summary>
    public int Value { get; init; }

    /// <summary>What may be built instead of it; null means nothing.</summary>
    public Alternate? Alternate { get; init; }
}

/// <summary>Whether a plan has to build a display.</summary>
public enum DisplayCommitment
{
    /// <summary>Every plan builds the display or its alternate.</summary>
    Must,

    /// <summary>A plan may leave the display out; the goal leftOut counts its value then.</summary>
    Want,
}

/// <summary>The display that may be built instead of another. Its own commitment and value do not count.</summary>
/// <param name="Display">Id of the replacement.</param>
/// <param name="Value">What the replacement counts in the goal leftOut, 0 to 100.</param>
public sealed record Alternate(string Display, int Value);

/// <summary>A task: work for one display in one zone, done in one or more stints.</summary>
public sealed record WeekTask
{
    /// <summary>Id of the task.</summary>
    public required string Id { get; init; }

    /// <summary>Name that people read.</summary>
    public required string Name { get; init; }

    /// <summary>Id of the display that it helps to build.</summary>
    public required string Display { get; init; }

    /// <summary>Id of the zone in which it is done.</summary>
    public required string Zone { get; init; }

    /// <summary>The alternative ways of doing it, at least one. Each stint takes one of them.</summary>
    public required IReadOnlyList<Mode> Modes { get; init; }

    /// <summary>Number of equal parts into which the task is split. Each is done without interruption.</summary>
    public int Stints { get; init; } = 1;

    /// <summary>Tasks that must end before any stint of this one starts.</summary>
    public IReadOnlyList<TaskPrecedence> After { get; init; } = [];

    /// <summary>Kits that must have arrived before any stint starts.</summary>
    public IReadOnlyList<KitRequirement> Needs { get; init; } = [];

    /// <summary>Properties of the work that bans and young-worker rules refer to, for example "noisy".</summary>
    public IReadOnlyList<string> Traits { get; init; } = [];

    /// <summary>Id of the night by whose closes the task must end; null means no due night.</summary>
    public string? Due { get; init; }

    /// <summary>
    /// True if all other work ends before it starts, as for the final floor clean. At most one task of a week.
    /// </summary>
    public bool Last { get; init; }

    /// <summary>Minutes after its last stint in which nobody works in its zone; 0 means that it closes nothing.</summary>
    public int ClosesZoneMinutes { get; init; }

    /// <summary>Range of the duration, for the risk simulation; null means that the duration is certain.</summary>
    public Estimate? Estimate { get; init; }

    /// <summary>What to inspect when the task is done, for the crew. The planner does not read it.</summary>
    public IReadOnlyList<string> Checks { get; init; } = [];

    /// <summary>How to do the task, for the crew. The planner does not read it.</summary>
    public IReadOnlyList<string> Steps { get; init; } = [];

    /// <summary>Safety notes for the crew. The planner does not read them.</summary>
    public IReadOnlyList<string> Cautions { get; init; } = [];
}

/// <summary>One of the alternative ways of doing a task: a duration and the resources that it takes.</summary>
/// <param name="Minutes">Length of the whole task in minutes; its stints share it equally.</param>
/// <param name="Roles">The people that a stint takes; empty means that the work needs nobody, as curing does.</param>
public sealed record Mode(int Minutes, IReadOnlyList<SkillRequirement> Roles)
{
    /// <summary>The equipment that a stint uses while it runs.</summary>
    public IReadOnlyList<EquipmentUse> Equipment { get; init; } = [];
}

/// <summary>The people of one skill that a mode or a clean-down takes ("roles" in the file).</summary>
/// <param name="Skill">The skill that each of them has.</param>
/// <param name="People">How many people.</param>
public sealed record SkillRequirement(string Skill, int People)
{
    /// <summary>Lowest level of the skill that each of them has, 1 to 3.</summary>
    public int Level { get; init; } = 1;
}

/// <summary>The pieces of one kind of equipment that a stint uses from its start to its end.</summary>
/// <param name="Id">Id of the equipment.</param>
/// <param name="Count">Number of pieces.</param>
public sealed record EquipmentUse(string Id, int Count);

/// <summary>A finish-to-start precedence with a minimum time lag: the successor starts after the predecessor's end.</summary>
/// <param name="Task">Id of the predecessor.</param>
public sealed record TaskPrecedence(string Task)
{
    /// <summary>Minimum lag in elapsed minutes. The day between two nights counts.</summary>
    public int DryMinutes { get; init; }

    /// <summary>True if every stint of the successor lies in the night of the predecessor's last stint.</summary>
    public bool SameNight { get; init; }
}

/// <summary>A kit, or one item of it, that a task needs before it starts.</summary>
/// <param name="Kit">Id of the kit.</param>
public sealed record KitRequirement(string Kit)
{
    /// <summary>The item needed; null means every line of the kit.</summary>
    public string? Item { get; init; }

    /// <summary>Good pieces of the item that the task uses. It has no effect where no item is named.</summary>
    public int Count { get; init; } = 1;
}

/// <summary>The range of a task's duration in its first mode, whose minutes are the most likely value.</summary>
/// <param name="Optimistic">Shortest duration in minutes.</param>
/// <param name="Pessimistic">Longest duration in minutes.</param>
public sealed record Estimate(int Optimistic, int Pessimistic);

/// <summary>The parameters of the rules. A rule whose parameter is null does not apply.</summary>
public sealed record RuleSet
{
    /// <summary>Shortest rest in minutes between two shifts of a person, and between a shift and a commitment.</summary>
    public int? MinRestMinutes { get; init; }

    /// <summary>A commitment that ends at most this many minutes before a shift forms one working day with it.</summary>
    public int? JoinMinutes { get; init; }

    /// <summary>Shortest shift in minutes, break included.</summary>
    public int? MinShiftMinutes { get; init; }

    /// <summary>Longest working day in minutes: the shift with its break, and a commitment that is joined to it.</summary>
    public int? MaxShiftMinutes { get; init; }

    /// <summary>Shifts start and end on whole multiples of this many minutes after their night opens.</summary>
    public int? ShiftGridMinutes { get; init; }

    /// <summary>A shift longer than this many minutes has a break; no stretch before or after the break is longer.</summary>
    public int? BreakAfterMinutes { get; init; }

    /// <summary>Length of a break in minutes, before it is rounded up to the grid.</summary>
    public int? BreakMinutes { get; init; }

    /// <summary>Smallest number of people on shift at any moment when anyone is.</summary>
    public int? MinPeople { get; init; }

    /// <summary>True if each night with shifts has a keyholder whose shift spans all the others.</summary>
    public bool KeyholderPresent { get; init; }

    /// <summary>Minutes between the start of the keyholder's shift and the night's first work.</summary>
    public int? OpeningMinutes { get; init; }

    /// <summary>Minutes between the night's last work and the end of the keyholder's shift.</summary>
    public int? ClosingMinutes { get; init; }

    /// <summary>Paid minutes of the pay week after which overtime begins.</summary>
    public int? OvertimeAfterMinutes { get; init; }

    /// <summary>Pay of an overtime minute in percent of a normal one; null means 100.</summary>
    public int? OvertimePercent { get; init; }

    /// <summary>Minutes before the launch by which all work ends; null means 0.</summary>
    public int? LaunchBufferMinutes { get; init; }

    /// <summary>A shift that starts within this many minutes of a re-plan counts three times in the goal changes.</summary>
    public int? NoticeMinutes { get; init; }

    /// <summary>
    /// For the goal "reserve": percentage of the crew's time in the last night that the plan may use; null means 60.
    /// </summary>
    public int? ReservePercent { get; init; }

    /// <summary>What replaces these parameters for people under 18; null means nothing.</summary>
    public Under18Rules? Under18 { get; init; }
}

/// <summary>The parameters for people under 18. A number that is given replaces the adult one.</summary>
public sealed record Under18Rules
{
    /// <summary>Local time of the evening by which a shift ends; null means no limit.</summary>
    public LocalTime? Until { get; init; }

    /// <summary>Traits of tasks that they may not work on.</summary>
    public IReadOnlyList<string> Barred { get; init; } = [];

    /// <inheritdoc cref="RuleSet.MinRestMinutes"/>
    public int? MinRestMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.MaxShiftMinutes"/>
    public int? MaxShiftMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.BreakAfterMinutes"/>
    public int? BreakAfterMinutes { get; init; }

    /// <inheritdoc cref="RuleSet.BreakMinutes"/>
    public int? BreakMinutes { get; init; }
}

/// <summary>A goal asked for, and how far it may end above its best value for the sake of the goals after it.</summary>
/// <param name="Goal">Id of the goal.</param>
/// <param name="TolerancePercent">Allowed excess over the best value, in percent.</param>
public sealed record GoalChoice(GoalId Goal, int TolerancePercent = 0)
{
    /// <summary>Largest value that the tolerance allows, rounded down.</summary>
    /// <param name="best">The goal's best value, in the goal's unit.</param>
    public long LargestAllowed(long best) => best + best * TolerancePercent / 100;
}
