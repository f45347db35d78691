namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>
/// Weights of <see cref="WeightedObjective"/>, in minor units of money. An hour means an hour of mean pay.
/// </summary>
internal sealed record ObjectiveParameters
{
    /// <summary>The last goal before cost weighs its unit times this, so that cost never outweighs it.</summary>
    public double PriorityFactor { get; init; } = 1e6;

    /// <summary>Each goal before cost weighs this many times as much as the next one.</summary>
    public double PriorityRatio { get; init; } = 100;

    /// <summary>A goal between hold and cost weighs its unit times this, in a week in which the goal hold is at stake.</summary>
    public double FactorBelowHold { get; init; } = 4;

    /// <summary>Each goal after cost weighs this share of the goal before it.</summary>
    public double LowerRatio { get; init; } = 0.05;

    /// <summary>Minutes of reserve, or of late work, that weigh an hour.</summary>
    public double MinutesPerHour { get; init; } = 60;

    /// <summary>Minutes of a later finish, or of uneven shifts, that weigh an hour.</summary>
    public double FinishMinutesPerHour { get; init; } = 600;

    /// <summary>
    /// Hours that a plan weighs for each unit by which the logarithm of its chance to hold falls short of the target's.
    /// </summary>
    public double HoldHours { get; init; } = 40;

    /// <summary>
    /// Hours that a move between zones and a handover weigh, after cost too. A search that ignores them saves minutes of pay by
    /// sending people about, and finds no plan that saves as much without.
    /// </summary>
    public double MoveHours { get; init; } = 0.03;

    public double HandoverHours { get; init; } = 0.3;

    /// <summary>Weight, in hours, of a shuffled stint in a re-plan that does not have that goal.</summary>
    public double UnaskedShuffledHours { get; init; } = 0.01;
}
