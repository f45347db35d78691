using SetWeek.Model.Durations;

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

    /// <summary>An arbitrary constant, "scenario" in ASCII.</summary>
    private const ulong ScenarioStream = 0x7363656E6172696F;

    /// <summary>Share of the scenarios to be held, in percent.</summary>
    public int Chance { get; init; } = DefaultChance;

    /// <summary>Minutes by which work may end later than the rules allow a plan; people under 18 have none.</summary>
    public int GraceMinutes { get; init; } = DefaultGraceMinutes;

    /// <summary>Number of scenarios.</summary>
    public int Scenarios { get; init; } = DefaultScenarios;

    /// <summary>Seed of the drawn durations.</summary>
    public int Seed { get; init; }

    /// <summary>
    /// Seed of the scenarios that the search sees, from 0 to 2^31 - 1. Simulations that measure its plans use <see cref="Seed"/>
    /// or the caller's. So no small seed draws the scenarios again.
    /// </summary>
    internal int ScenarioSeed => (int)(SplitMix64.Mix(SplitMix64.Mix(ScenarioStream) ^ (ulong)(uint)Seed) >> 33);
}
