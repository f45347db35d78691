namespace SetWeek.Model.Weeks;

/// <summary>
/// The largest counts and values that a week file may have (docs/formats.md lists them). The set week of one store stays far
/// below them. Within them the planner's integer arithmetic cannot overflow, and a hostile file cannot exhaust it.
/// </summary>
public static class WeekLimits
{
    /// <summary>Most tasks, people and nights of a week.</summary>
    public const int Tasks = 500, People = 60, Nights = 21;

    /// <summary>Most zones, kinds of equipment, kits, lines of one kit, and displays.</summary>
    public const int Zones = 200, Equipment = 200, Kits = 200, KitLines = 500, Displays = 500;

    /// <summary>
    /// Most entries of one task, <see cref="TotalStints"/> apart, which counts those of all tasks. A mode has at most
    /// <see cref="SkillRequirements"/> roles and as many kinds of equipment.
    /// </summary>
    public const int Modes = 8, SkillRequirements = 20, Stints = 50, TotalStints = 2000, Precedences = 500,
        KitRequirements = 50, Traits = 20;

    /// <summary>
    /// Most bans of a night; skills, available entries and commitments of a person; goals of a week; and steps, checks or
    /// cautions of a task.
    /// </summary>
    public const int Bans = 50, Skills = 50, Available = 100, Commitments = 200, Goals = 13, Instructions = 50;

    /// <summary>Most pins of a week, most scenarios of the goal hold, and its longest grace in minutes.</summary>
    public const int Pins = 500, Scenarios = 4096, GraceMinutes = 240;

    /// <summary>Most that a zone sells in a day, in minor units.</summary>
    public const int Trade = 1_000_000_000;

    /// <summary>Maximum number of characters in a step, a check, a caution, or a sentence of a plan.</summary>
    public const int SentenceLength = 1000;

    /// <summary>Longest duration in minutes: 31 days. It allows a whole project to be planned as a single night.</summary>
    public const int Minutes = 31 * 24 * 60;

    /// <summary>Longest notice in minutes: a year.</summary>
    public const int NoticeMinutes = 366 * 24 * 60;

    /// <summary>
    /// Most pieces of equipment or of a kit that a task needs, most pieces counted on a kit's line, highest rate in minor
    /// units per hour, and highest percentage.
    /// </summary>
    public const int Pieces = 10_000, PieceCount = 1_000_000, Rate = 10_000_000, Percent = 1000;
}
