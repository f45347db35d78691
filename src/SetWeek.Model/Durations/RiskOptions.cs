using SetWeek.Model.Weeks;

namespace SetWeek.Model.Durations;

/// <summary>
/// How a simulation draws durations and how many runs it makes. Equal options give equal results, whatever the number of
/// workers.
/// </summary>
public sealed record RiskOptions
{
    /// <summary>The number of runs, unless the caller asks for another.</summary>
    public const int DefaultRuns = 10_000;

    /// <summary>The most runs that a caller may ask for.</summary>
    public const int MaxRuns = 100_000;

    /// <summary>The longest grace that a caller may ask for.</summary>
    public const int MaxGraceMinutes = 240;

    /// <summary>An arbitrary constant, "scenario" in ASCII.</summary>
    private const ulong ScenarioStream = 0x7363656E6172696F;

    /// <summary>The number of simulated weeks; from 1 to <see cref="MaxRuns"/>.</summary>
    public int Runs { get; init; } = DefaultRuns;

    /// <summary>The seed of all random numbers.</summary>
    public int Seed { get; init; }

    /// <summary>The distribution that durations are drawn from.</summary>
    public DurationDistribution Distribution { get; init; } = DurationDistribution.Beta;

    /// <summary>The spread of tasks without an estimate; null: they take exactly their planned minutes.</summary>
    public DefaultSpread? DefaultSpread { get; init; }

    /// <summary>
    /// Minutes from 0 to <see cref="MaxGraceMinutes"/>. Work starts even if its expected end is this much later than the rules
    /// allow; without grace it would be put off to a later night. Bans have grace too; people under 18 have none.
    /// </summary>
    public int GraceMinutes { get; init; }

    /// <summary>The number of threads; at least 1.</summary>
    public int Workers { get; init; } = 2;

    /// <summary>
    /// The scenarios of the goal hold, which the search sees. They have a seed of their own, so that no small seed of a
    /// simulation that measures its plans draws them again.
    /// </summary>
    internal static RiskOptions ForScenariosOf(HoldTarget hold) => new()
    {
        Runs = hold.Scenarios,
        Seed = (int)(SplitMix64.Mix(SplitMix64.Mix(ScenarioStream) ^ (ulong)(uint)hold.Seed) >> 33),
        GraceMinutes = hold.GraceMinutes,
    };
}

/// <summary>An estimate in percent of the most likely duration, for example 80 and 160.</summary>
/// <param name="OptimisticPercent">At most 100.</param>
/// <param name="PessimisticPercent">At least 100.</param>
public sealed record DefaultSpread(int OptimisticPercent, int PessimisticPercent);
