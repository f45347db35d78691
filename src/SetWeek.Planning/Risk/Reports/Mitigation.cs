using SetWeek.Model.Changes;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>
/// The changes to a week with which a new plan would hold more often than a new plan of the week as it is. All new plans are
/// searched with the same effort.
/// </summary>
/// <param name="Best">
/// At most two: those whose new plans hold most often. Empty if none holds more often than <see cref="Replanned"/>.
/// </param>
/// <param name="Both">The launch with both, in a new plan; null if there are not two, or no time was left.</param>
/// <param name="Tried">How many mitigations were tried.</param>
public sealed record MitigationAdvice(IReadOnlyList<Mitigation> Best, EstimatedProbability? Both, int Tried)
{
    /// <summary>
    /// What a new plan of the week as it is reaches; null if none was searched. Where it reaches the chance asked for, no
    /// mitigation is tried.
    /// </summary>
    public ReplannedWeek? Replanned { get; init; }

    /// <summary>The chance that the plans were made for, in percent.</summary>
    public int TargetPercent { get; init; }

    /// <summary>True: the plan itself reaches the chance, so nothing was searched.</summary>
    public bool AlreadyReached { get; init; }

    /// <summary>What a new plan with both of <see cref="Best"/> reaches; null as <see cref="Both"/> is.</summary>
    public ReplannedWeek? WithBoth { get; init; }

    /// <summary>Mitigations that were tried and are not among the best, with what they gave.</summary>
    public IReadOnlyList<TriedMitigation> Others { get; init; } = [];

    /// <summary>What would help the chain that is left half-secured too often; null if there is none.</summary>
    public SecuringAdvice? Securing { get; init; }

    /// <summary>Mitigations that were not tried because time ran out.</summary>
    public IReadOnlyList<UntriedMitigation> Untried { get; init; } = [];
}

/// <summary>What a new plan reaches, on 10,000 fresh runs.</summary>
/// <param name="Holds">The chance that it holds (the goal hold).</param>
/// <param name="Secured">The chance that it leaves nothing half-secured for a morning.</param>
/// <param name="Cost">Wages, in minor units.</param>
public sealed record ReplannedWeek(EstimatedProbability Holds, EstimatedProbability Secured, long Cost);

/// <summary>A mitigation that was not tried because time ran out.</summary>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Sentence">The changes in words.</param>
public sealed record UntriedMitigation(IReadOnlyList<WeekChange> Changes, string Sentence);

/// <summary>A mitigation that was tried and is not among the best.</summary>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Sentence">The changes in words.</param>
/// <param name="Holds">
/// The chance with the change: of a new plan, on 10,000 fresh runs, or of the plan as it is, on fewer. In the latter case it is
/// compared with <paramref name="HoldsWithout"/>.
/// </param>
/// <param name="HoldsWithout">The chance without the change, on the same runs.</param>
/// <param name="PlannedAnew">True: the week was planned again; false: the change was made in the plan as it is.</param>
/// <param name="Cost">Wages of the new plan, in minor units; null without one.</param>
public sealed record TriedMitigation(IReadOnlyList<WeekChange> Changes, string Sentence, EstimatedProbability Holds,
    EstimatedProbability HoldsWithout, bool PlannedAnew, long? Cost);

/// <summary>A change to the week, and what a new plan of the week with it reaches.</summary>
/// <param name="Changes">Changes to the week; they can be given to a what-if.</param>
/// <param name="Sentence">The changes in words.</param>
/// <param name="Launch">The probability that the launch is met with the change, on the runs of the report.</param>
/// <param name="Gain">
/// The share of runs that meet the launch only with the change, less the share that meet it only without. Without the change, the
/// week is planned again too.
/// </param>
/// <param name="GainError">The Monte Carlo standard error of the gain, from paired runs.</param>
/// <param name="StintsPutOff">The mean number of stints put off in a run, with the change.</param>
/// <param name="NightsInWindow">The mean number of nights that end in their windows, with the change.</param>
/// <param name="PlannedAnew">True: the week was planned again.</param>
/// <param name="Reached">The chance of the new plan, and its wages.</param>
public sealed record Mitigation(
    IReadOnlyList<WeekChange> Changes, string Sentence, EstimatedProbability Launch, double Gain, double GainError,
    double StintsPutOff, double NightsInWindow, bool PlannedAnew, ReplannedWeek Reached);
