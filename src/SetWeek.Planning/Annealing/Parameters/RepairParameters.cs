namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>
/// Repair of the published plan: steps of <see cref="PublishedPlanRepair"/>, and how many of them <see cref="HeuristicSearch"/>
/// makes. The defaults are measured.
/// </summary>
internal sealed record RepairParameters
{
    public RuinAndRecreateParameters Step { get; init; } = new()
    {
        PriorityRules =
        [
            new(PriorityKey.LatestEnd, Noise: 300), new(PriorityKey.MissingFirst, Noise: 0.5),
            new(PriorityKey.TopologicalRank), new(PriorityKey.MostWork, Noise: 30),
        ],
        Prices = new() { MaxPayFactor = 0.3, VersatilityLevels = [2], NoiseLevels = [0, 0.05, 0.3] },
    };

    /// <summary>Steps of a round of cooling.</summary>
    public int StepsPerRound { get; init; } = 300;

    /// <summary>Temperature at the start and at the end of a round, in changes.</summary>
    public double InitialTemperature { get; init; } = 1.5;

    public double FinalTemperature { get; init; } = 0.15;

    /// <summary>Probability that a round starts from the best repair, once there is one.</summary>
    public double RoundFromBest { get; init; } = 0.5;

    /// <summary>Rounds without a plan after which each further round first switches one display to its next choice.</summary>
    public int RoundsBeforeNextChoice { get; init; } = 2;

    /// <summary>
    /// Weight of a slot of one person's missing work, in changes. It starts at this value, grows with each step, and starts
    /// again once it has reached its maximum.
    /// </summary>
    public double MissingWeight { get; init; } = 0.15;

    public double MaxMissingWeight { get; init; } = 1.5;

    /// <summary>Factor of the weight of missing work from one step to the next.</summary>
    public double MissingWeightGrowth { get; init; } = 1.01;

    /// <summary>Weight of an activity at another time or with other people than published, in changes.</summary>
    public double DisplacedWorkWeight { get; init; } = 0.03;

    /// <summary>Weight of a change in every other round while there is no plan: any plan is better than none.</summary>
    public double LowChangeWeight { get; init; } = 0.15;

    /// <summary>
    /// Probability that the ruin releases one person's published shift and removes their work of that night. Published shifts
    /// stay even when idle. They may keep the only qualified people off the night that needs them now.
    /// </summary>
    public double PersonNight { get; init; } = 0.1;

    /// <summary>Otherwise, while work is missing: probability that activities that block a missing stint are removed.</summary>
    public double Blockers { get; init; } = 0.75;

    /// <summary>
    /// Probability that those are removed only from the stint's present time window, between the placed predecessors and
    /// successors.
    /// </summary>
    public double BlockersWithinWindow { get; init; } = 0.6;

    /// <summary>Otherwise: probability that work that differs from the published plan is removed.</summary>
    public double Displaced { get; init; } = 0.7;

    /// <summary>Largest number of stints that such a ruin aims at.</summary>
    public int MaxDisplaced { get; init; } = 4;

    /// <summary>Otherwise related stints are removed: the largest number that a ruin aims at.</summary>
    public int MaxRemoved { get; init; } = 9;

    /// <summary>
    /// Probability that a display that does not fit may switch to its next choice while work is missing. For an optional
    /// display, that choice can be to leave it out.
    /// </summary>
    public double LeaveOut { get; init; } = 0.1;

    /// <summary>The same after the first round, while there is no plan.</summary>
    public double LateLeaveOut { get; init; } = 0.4;

    /// <summary>Steps before the search first tries a reconstruction.</summary>
    public int FirstSteps { get; init; } = 250;

    /// <summary>Rounds of reconstruction and repair if the first steps find no plan.</summary>
    public int Attempts { get; init; } = 4;

    /// <summary>Steps at a time while the only plan is a reconstruction.</summary>
    public int FurtherSteps { get; init; } = 50;

    /// <summary>Steps after a plan is found, and at each restart without one.</summary>
    public int LastSteps { get; init; } = 500;

    /// <summary>Share of the budget until which repair continues after a plan is found.</summary>
    public double Share { get; init; } = 0.25;
}
