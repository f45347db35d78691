using SetWeek.Model.Changes;

namespace SetWeek.Planning.Risk.Reports;

/// <summary>What would help most, each tried in the same luck as the plan itself.</summary>
/// <param name="Best">
/// The one that does most, and the one that adds most to it or, where none adds anything, the second best; fewer where
/// nothing helps.
/// </param>
/// <param name="Both">The launch with both; null where there are not two, or the time was over.</param>
/// <param name="Tried">How many were.</param>
public sealed record MitigationAdvice(IReadOnlyList<Mitigation> Best, EstimatedProbability? Both, int Tried)
{
    /// <summary>What was not looked at, the time being over.</summary>
    public IReadOnlyList<UntriedMitigation> Untried { get; init; } = [];
}

/// <param name="Changes">To the week: what could be tried with it as "what if".</param>
/// <param name="Sentence">The same in words.</param>
public sealed record UntriedMitigation(IReadOnlyList<WeekChange> Changes, string Sentence);

/// <param name="Changes">To the week: what could be tried with it as "what if".</param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Launch">The launch with it.</param>
/// <param name="Gain">Share of the runs that it wins for the launch, those that it loses taken off.</param>
/// <param name="GainError">Monte Carlo standard error of the gain, run set against run.</param>
/// <param name="StintsPutOff">On average, with it.</param>
/// <param name="NightsInWindow">Nights that end in their windows, on average, with it.</param>
/// <param name="PlannedAnew">The plan that it was tried with is another one; else it is this plan with the change made in
/// it.</param>
public sealed record Mitigation(
    IReadOnlyList<WeekChange> Changes, string Sentence, EstimatedProbability Launch, double Gain, double GainError, double StintsPutOff,
    double NightsInWindow, bool PlannedAnew);
