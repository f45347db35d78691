namespace SetWeek.Model.Weeks;

/// <summary>
/// The most that a week file may hold (docs/formats.md lists them). A set week of one store stays far inside; what lies
/// beyond is a mistake or an attack, and the planner's whole numbers are safe within.
/// </summary>
public static class WeekLimits
{
    public const int Tasks = 500, People = 60, Nights = 21;
    public const int Zones = 200, Equipment = 200, Kits = 200, KitLines = 500, Displays = 500;
    public const int Modes = 8, SkillRequirements = 20, Stints = 50, TotalStints = 2000, Precedences = 500, KitRequirements = 50, Traits = 20;
    public const int Bans = 50, Skills = 50, Available = 100, Commitments = 200, Goals = 9, Instructions = 50;

    /// <summary>Characters of a step, a check or a caution.</summary>
    public const int SentenceLength = 1000;

    /// <summary>31 days: longer than any night or task, since a whole project may be one night.</summary>
    public const int Minutes = 31 * 24 * 60;

    /// <summary>A year, for notice.</summary>
    public const int NoticeMinutes = 366 * 24 * 60;

    public const int Pieces = 10_000, PieceCount = 1_000_000, Rate = 10_000_000, Percent = 1000;
}
