using System.Text.Json.Serialization;
using NodaTime;
using SetWeek.Model.Durations;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>
/// How likely a plan is to hold, and what drives its risk. docs/decisions/risk.md says what a run simulates and what it leaves
/// out.
/// </summary>
public sealed record RiskReport
{
    /// <summary>The number of runs.</summary>
    public required int Runs { get; init; }

    /// <summary>The seed of the random numbers.</summary>
    public required int Seed { get; init; }

    /// <summary>The distribution that durations were drawn from.</summary>
    [JsonPropertyName("spreading")] // the API's own name, as in its query
    public required DurationDistribution Distribution { get; init; }

    /// <summary>Minutes by which work may end later than the rules allow; <see cref="Hold"/> has its own.</summary>
    public required int GraceMinutes { get; init; }

    /// <summary>The number of tasks with an uncertain duration. If it is 0, all runs are equal.</summary>
    public required int UncertainTasks { get; init; }

    /// <summary>The chance that the plan holds, as the goal hold defines it, on runs of its own.</summary>
    public required HoldChance Hold { get; init; }

    /// <summary>The probability that all planned work is done by the launch.</summary>
    public required EstimatedProbability Launch { get; init; }

    /// <summary>The probability that all planned work is done within the nights of the week.</summary>
    public required EstimatedProbability Done { get; init; }

    /// <summary>The probability that no work is left half-secured at the end of a night.</summary>
    public required EstimatedProbability Secured { get; init; }

    /// <summary>The mean number of stints that a run puts off to a later night, or does not do at all.</summary>
    public required double StintsPutOff { get; init; }

    /// <summary>The launch if work may end some minutes later than the rules allow, by grace, shortest first.</summary>
    public required IReadOnlyList<GraceRisk> WithGrace { get; init; }

    /// <summary>When the last work ends.</summary>
    public required FinishSpread Finish { get; init; }

    /// <summary>The nights that are not over, in order.</summary>
    public required IReadOnlyList<NightRisk> Nights { get; init; }

    /// <summary>The planned tasks that have a due night.</summary>
    public required IReadOnlyList<DueRisk> Dues { get; init; }

    /// <summary>The planned tasks, those that drive the risk most first.</summary>
    public required IReadOnlyList<TaskRisk> Tasks { get; init; }

    /// <summary>What would help; null if the caller did not ask.</summary>
    public MitigationAdvice? Helps { get; init; }
}

/// <summary>
/// The same plan with the same random numbers and fewer runs, where work may start although it is expected to end later than
/// the rules allow.
/// </summary>
/// <param name="Minutes">How much later.</param>
/// <param name="Launch">The probability that all planned work is done by the launch.</param>
/// <param name="StintsPutOff">The mean number of stints that a run puts off.</param>
public sealed record GraceRisk(int Minutes, EstimatedProbability Launch, double StintsPutOff);

/// <summary>
/// The distribution of the end of the last work. A percentile is null if, at that share of the runs, some work is not done in
/// any night of the week.
/// </summary>
/// <param name="P10">All work is done by then in 10 % of the runs.</param>
/// <param name="P50">All work is done by then in 50 % of the runs.</param>
/// <param name="P80">All work is done by then in 80 % of the runs.</param>
/// <param name="P90">All work is done by then in 90 % of the runs.</param>
/// <param name="MeanMinutes">
/// Minutes after the first night opens, over the runs in which all work is done; null if there is no such run.
/// </param>
/// <param name="DeviationMinutes">The standard deviation over the same runs.</param>
public sealed record FinishSpread(
    OffsetDateTime? P10, OffsetDateTime? P50, OffsetDateTime? P80, OffsetDateTime? P90,
    double? MeanMinutes, double? DeviationMinutes);

/// <summary>How likely a night is to end in time.</summary>
/// <param name="Night">The id of the night.</param>
/// <param name="InWindow">The probability that the last work, and the closing after it, end by the night's closes.</param>
/// <param name="P50">The last work ends by then in 50 % of the runs; null if there is none.</param>
/// <param name="P80">The last work ends by then in 80 % of the runs; null if there is none.</param>
/// <param name="OverMinutes">The mean minutes past the night's closes, over all runs.</param>
/// <param name="OvertimeMinutes">The mean person-minutes past the planned ends of shifts, over all runs.</param>
public sealed record NightRisk(
    string Night, EstimatedProbability InWindow, OffsetDateTime? P50, OffsetDateTime? P80, double OverMinutes,
    double OvertimeMinutes);

/// <summary>How likely a task is to be done when it is due.</summary>
/// <param name="Task">The id of the task.</param>
/// <param name="Night">The id of its due night.</param>
/// <param name="Met">The probability that the task is done by the end of that night.</param>
public sealed record DueRisk(string Task, string Night, EstimatedProbability Met);

/// <summary>How much a task drives the risk of a plan. docs/decisions/risk.md gives the sources of the indices.</summary>
/// <param name="Task">The id of the task.</param>
/// <param name="Criticality">Criticality index: the share of runs in which the task is on the critical path of the week.</param>
/// <param name="NightCriticality">The share of runs in which the task is on the critical path of some night.</param>
/// <param name="Cruciality">Cruciality index: Spearman's rank correlation between the task's duration and the finish.</param>
/// <param name="LaunchCruciality">
/// The correlation between the rank of the task's duration and a missed launch; 0 if all runs miss the launch, or none.
/// </param>
/// <param name="Sensitivity">
/// Schedule sensitivity index: criticality times the standard deviation of the task's duration, divided by that of the finish.
/// </param>
/// <param name="PutOff">The share of runs that put off some of the task to a later night, or do not do it.</param>
public sealed record TaskRisk(
    string Task, double Criticality, double NightCriticality, double Cruciality, double LaunchCruciality, double Sensitivity,
    double PutOff);
