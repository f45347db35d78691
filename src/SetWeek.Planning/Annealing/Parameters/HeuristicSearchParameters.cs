using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>Numbers of <see cref="HeuristicSearch"/> and of the searches that it runs. The defaults are measured.</summary>
internal sealed record HeuristicSearchParameters
{
    public ConstructionParameters Construction { get; init; } = new();
    public FeasibilityParameters Feasibility { get; init; } = new();
    public RepairParameters Repair { get; init; } = new();
    public AnnealingParameters Annealing { get; init; } = new();
    public ObjectiveParameters Objective { get; init; } = new();
    public RuinParameters Ruin { get; init; } = new();
    public ReassignmentParameters Reassignment { get; init; } = new();

    /// <summary>Number of start times evaluated in one unit of effort, which is about one second of one core.</summary>
    public double StartsPerEffortUnit { get; init; } = 0.9e6;

    /// <summary>
    /// Minimum number of start times charged for a step. Otherwise a search whose steps evaluate no start time might not end.
    /// </summary>
    public int MinStartsPerStep { get; init; } = 20;

    /// <summary>Minimum effort charged for a restart, for the same reason.</summary>
    public double MinEffortPerRestart { get; init; } = 0.001;

    /// <summary>
    /// Effort of one night evaluated for the goal hold, and of one activity in one scenario of the whole simulation.
    /// </summary>
    public double EffortPerNightEvaluated { get; init; } = 2e-5;

    /// <inheritdoc cref="EffortPerNightEvaluated"/>
    public double EffortPerSimulatedActivity { get; init; } = 2e-7;

    /// <summary>Minimum number of steps from one offer of a better plan to the next.</summary>
    public int StepsBetweenOffers { get; init; } = 16;

    /// <summary>Steps from one look at the plans of other searches to the next.</summary>
    public int StepsBetweenAdoptions { get; init; } = 256;

    /// <summary>
    /// Seconds from one offer to the next, at least, because checking a plan takes time. Deterministic runs do not use it.
    /// </summary>
    public double SecondsBetweenOffers { get; init; } = 0.05;

    /// <summary>
    /// Least pause after an offer, as a multiple of what it took. In a large week most of that is the simulation of the goal
    /// hold.
    /// </summary>
    public double PausePerOffer { get; init; } = 9;
}
