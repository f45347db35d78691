namespace SetWeek.Model.Weeks;

/// <summary>
/// How surely a plan has to hold when durations vary. A scenario is one duration drawn for each task. It is held if the plan,
/// worked in its order, meets launch and every due night, closes each night in time, and leaves nothing half-secured.
/// </summary>
public sealed record HoldTarget
{
    /// <summary>The chance asked for where the week file names none, in percent.</summary>
    public const int DefaultChance = 80;

    /// <summary>The grace where the week file names none, in minutes.</summary>
    public const int DefaultGraceMinutes = 30;

    /// <summary>The number of scenarios where the week file names none.</summary>
    public const int DefaultScenarios = 256;

    /// <summary>Share of the scenarios to be held, in percent.</summary>
    public int Chance { get; init; } = DefaultChance;

    /// <summary>Minutes by which work may end later than the rules allow a plan; people under 18 have none.</summary>
    public int GraceMinutes { get; init; } = DefaultGraceMinutes;

    /// <summary>Number of scenarios.</summary>
    public int Scenarios { get; init; } = DefaultScenarios;

    /// <summary>Seed of the drawn durations.</summary>
    public int Seed { get; init; }
}
