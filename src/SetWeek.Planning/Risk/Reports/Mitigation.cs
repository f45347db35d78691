using SetWeek.Model.Changes;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>
/// The changes to a week that would raise its chance most. Each is simulated with the plan's own random numbers.
/// </summary>
/// <param name="Best">
/// At most two: the mitigation that helps most, then the one that adds most to it. If none adds anything, the second is the
/// second best alone. Empty if nothing helps.
/// </param>
/// <param name="Both">The launch with both; null if there are not two, or no time was left to simulate them together.</param>
/// <param name="Tried">How many mitigations were simulated.</param>
public sealed record MitigationAdvice(IReadOnlyList<Mitigation> Best, EstimatedProbability? Both, int Tried)
{
    /// <summary>Mitigations that were not simulated because time ran out.</summary>
    public IReadOnlyList<UntriedMitigation> Untried { get; init; } = [];
}

/// <summary>A mitigation that was not simulated because time ran out.</summary>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Sentence">The changes in words.</param>
public sealed record UntriedMitigation(IReadOnlyList<WeekChange> Changes, string Sentence);

/// <summary>A change to the week, and what the simulation says of the week with it.</summary>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Sentence">The changes in words.</param>
/// <param name="Launch">The probability that the launch is met with the change.</param>
/// <param name="Gain">
/// The share of runs that meet the launch only with the change, less the share that meet it only without.
/// </param>
/// <param name="GainError">The Monte Carlo standard error of the gain, from paired runs.</param>
/// <param name="StintsPutOff">The mean number of stints put off in a run, with the change.</param>
/// <param name="NightsInWindow">The mean number of nights that end in their windows, with the change.</param>
/// <param name="PlannedAnew">True: the week was planned again; false: the change was made in the plan as it is.</param>
public sealed record Mitigation(
    IReadOnlyList<WeekChange> Changes, string Sentence, EstimatedProbability Launch, double Gain, double GainError,
    double StintsPutOff, double NightsInWindow, bool PlannedAnew);
