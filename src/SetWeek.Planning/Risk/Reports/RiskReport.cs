using NodaTime;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>
/// How likely a plan is to hold, and what drives it (docs/decisions/risk.md says what a run does and does not do).
/// </summary>
public sealed record RiskReport
{
    public required int Runs { get; init; }
    public required int Seed { get; init; }
    public required DurationDistribution Spreading { get; init; }

    /// <summary>Tasks whose length is uncertain; where there is none every run is the same.</summary>
    public required int UncertainTasks { get; init; }

    /// <summary>Everything planned stands by the launch.</summary>
    public required EstimatedProbability Launch { get; init; }

    /// <summary>Everything planned is done in some night of the week.</summary>
    public required EstimatedProbability Done { get; init; }

    /// <summary>Nothing half-secured is left for the morning.</summary>
    public required EstimatedProbability Secured { get; init; }

    /// <summary>Stints put off to a later night or to none, on average over the runs.</summary>
    public required double StintsPutOff { get; init; }

    /// <summary>The launch if work may end later than the rules allow: what a few minutes decide.</summary>
    public required IReadOnlyList<GraceRisk> WithGrace { get; init; }

    public required FinishSpread Finish { get; init; }
    public required IReadOnlyList<NightRisk> Nights { get; init; }
    public required IReadOnlyList<DueRisk> Dues { get; init; }

    /// <summary>Planned tasks, those that matter most first.</summary>
    public required IReadOnlyList<TaskRisk> Tasks { get; init; }

    /// <summary>What would help; null where it was not asked.</summary>
    public MitigationAdvice? Helps { get; init; }
}

/// <summary>
/// The same week and luck, where work is begun that is expected to end so many minutes later than the rules allow.
/// </summary>
public sealed record GraceRisk(int Minutes, EstimatedProbability Launch, double StintsPutOff);

/// <summary>When the last work ends. Null: in more than so many runs something is done in no night of the week.</summary>
/// <param name="MeanMinutes">After the first night opens, over the runs in which all is done; null where there is none.</param>
/// <param name="DeviationMinutes">Standard deviation over the same runs.</param>
public sealed record FinishSpread(
    OffsetDateTime? P10, OffsetDateTime? P50, OffsetDateTime? P80, OffsetDateTime? P90,
    double? MeanMinutes, double? DeviationMinutes);

/// <param name="InWindow">Its last work, and the closing after it, end by the night's closes.</param>
/// <param name="P50">When its last work ends in half of the runs; null where there is none.</param>
/// <param name="P80">The same in 80 of 100.</param>
/// <param name="OverMinutes">Past its closes, on average over all runs.</param>
/// <param name="OvertimeMinutes">Minutes times people past the ends of their planned shifts, on average over all runs.</param>
public sealed record NightRisk(
    string Night, EstimatedProbability InWindow, OffsetDateTime? P50, OffsetDateTime? P80, double OverMinutes, double OvertimeMinutes);

public sealed record DueRisk(string Task, string Night, EstimatedProbability Met);

/// <param name="Criticality">Criticality index: the share of runs in which the task is on the chain that ends last of
/// all.</param>
/// <param name="NightCriticality">The share in which it is on the chain that ends last in a night of its own.</param>
/// <param name="Cruciality">Cruciality index: Spearman's rank correlation of its length with the finish.</param>
/// <param name="LaunchCruciality">Correlation of the rank of its length with the launch being missed; 0 where it always or never
/// is.</param>
/// <param name="Sensitivity">Schedule sensitivity index: criticality times the deviation of its length over that of the
/// finish.</param>
/// <param name="PutOff">The share of runs in which some of it is put off to a later night, or to none.</param>
public sealed record TaskRisk(
    string Task, double Criticality, double NightCriticality, double Cruciality, double LaunchCruciality, double Sensitivity,
    double PutOff);
