namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>
/// Improvement of a complete plan: steps of <see cref="SimulatedAnnealing"/>, and the temperatures and times that
/// <see cref="HeuristicSearch"/> gives them. The defaults are measured.
/// </summary>
internal sealed record AnnealingParameters
{
    public RuinAndRecreateParameters Step { get; init; } = new()
    {
        PriorityRules =
        [
            new(PriorityKey.LatestEnd, RelativeNoise: 0.05), new(PriorityKey.MostWork, RelativeNoise: 1),
            new(PriorityKey.TopologicalRank), new(PriorityKey.None, Noise: 1),
        ],
        Prices = new()
        {
            VariesLateWork = true, MaxWorkedTime = 0.6, VersatilityLevels = [0, 1], DelayFactors = [4, 1, 0],
            NoiseLevels = [0, 0.03, 0.15],
        },
        ChangeChoices = 0.02,
        AllOrNothing = true,
    };

    /// <summary>
    /// Largest number of stints that one ruin aims at. If few are removed, inserting
    /// them again improves the plan more often.
    /// </summary>
    public int MaxRemoved { get; init; } = 4;

    /// <summary>While changes or shuffled is improved: probability that work other than published is removed.</summary>
    public double Displaced { get; init; } = 0.5;

    /// <summary>Probability that a random display is switched to its most valuable choice.</summary>
    public double BestChoice { get; init; } = 0.03;

    public CoolingSchedule Cooling { get; init; } = new();

    /// <summary>For a small week, whose cost depends on a few whole shifts.</summary>
    public CoolingSchedule CoolingOfSmallWeek { get; init; } = new() { Cycles = 3, FirstShare = 1.0 / 3, ReheatTemperature = 2 };

    /// <summary>For a week in which the goal hold is at stake. Its weight rises in each cooling.</summary>
    public CoolingSchedule CoolingForHold { get; init; } = new() { Cycles = 3, FirstShare = 0.4, ReheatTemperature = 0.2 };

    /// <summary>
    /// Share of its full weight that the goal hold has at the start of the first cooling, and of each later one.
    /// </summary>
    public double FirstHoldWeight { get; init; } = 0.02;

    /// <inheritdoc cref="FirstHoldWeight"/>
    public double ReheatHoldWeight { get; init; } = 0.5;

    /// <summary>What its weight rises to by the end of a cooling while no plan reaches the chance; 1: the full weight.</summary>
    public double LastHoldWeight { get; init; } = 4;

    /// <summary>Share of a cooling from which the goal hold has its full weight.</summary>
    public double FullHoldWeightFrom { get; init; } = 0.6;

    /// <summary>
    /// Share of the budget from which a cooling starts half cooled: it continues from a good plan. So does a second search.
    /// </summary>
    public double LateStart { get; init; } = 0.5;

    /// <summary>
    /// Temperatures while one goal before cost is improved, in steps of that goal: its unit, or a zone bare for a day. Its weight
    /// is so large that the weighted sum never accepts a worse value of it.
    /// </summary>
    public double GoalInitialTemperature { get; init; } = 0.5;

    public double GoalFinalTemperature { get; init; } = 0.15;

    /// <summary>Each goal that ranks above cost gets this share of the time that remains.</summary>
    public double GoalShare { get; init; } = 0.5;

    /// <summary>The same for the goal changes, which people notice first.</summary>
    public double ChangesShare { get; init; } = 0.75;

    /// <summary>The same for the goal bare, which few moves decide.</summary>
    public double BareShare { get; init; } = 0.2;

    /// <summary>Share of the budget that the goal leftOut gets, if it is the first goal.</summary>
    public double LeftOutShare { get; init; } = 0.4;

    /// <summary>Steps for each better choice of a display in the first pass over displays; each pass doubles them.</summary>
    public int FirstDisplaySteps { get; init; } = 40;

    public int MaxDisplaySteps { get; init; } = 2000;

    /// <summary>Annealing steps between passes over displays, for each step that a display gets.</summary>
    public int StepsBetweenPasses { get; init; } = 2;

    /// <summary>Temperature between passes, as a share of the first temperature of a cooling.</summary>
    public double TemperatureBetweenPasses { get; init; } = 0.25;
}
