using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning;
using SetWeek.Planning.Certainty;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Service.Solving;

/// <param name="After">Time from the start of the search.</param>
/// <param name="Options">The options of a re-plan; empty for a first plan.</param>
public sealed record ProgressSnapshot(TimeSpan After, Plan Best, IReadOnlyList<OfferedOption> Options);

/// <summary>
/// The search for a requested plan or, if one is published, for the options of a re-plan. A batch's re-plan has no options.
/// </summary>
internal static class PlanSearch
{
    /// <param name="isDropped">
    /// Whether nobody wants the outcome any more. Otherwise its chances are measured, also when the search is ended early.
    /// </param>
    /// <param name="end">Ends the search.</param>
    /// <returns>The requested candidate with its plan, then a candidate for each further option.</returns>
    public static IReadOnlyList<CandidatePlan> Run(CandidatePlan candidate, PlannerInput input, Action<ProgressSnapshot> report,
        Func<bool> isDropped, CancellationToken end)
    {
        var limits = candidate.Limits.ToSearch();
        var week = candidate.Limits.ChancePercent is { } chance ? ChanceOverride.Apply(input.Week, chance) : input.Week;
        var problem = Problem.Of(input.Week, input.Replan);
        if (input.Replan is not { } replan)
        {
            var plan = ChanceOverride.WithOwnGoals(problem, Planner.Plan(week, limits,
                onProgress: found => report(new ProgressSnapshot(found.Elapsed, found.Best, [])), stop: end));
            return [candidate.WithResult(plan, plan.Nights.Count == 0 || isDropped() ? null
                : HoldChance.Of(problem, PlanConverter.ScheduleOf(problem, plan)))];
        }
        // A batch asks what many stores have to change. Options and chances take longer than the plan; a lead's own request has
        // them.
        if (candidate.Batch is not null)
            return [candidate.WithResult(LeastChangeReplan.Find(week, limits, replan,
                found => report(new ProgressSnapshot(found.Elapsed, found.Best, [])), end))];
        var offer = OptionSearch.Find(week, limits, replan, found => report(new ProgressSnapshot(found.Elapsed, found.Best,
            [.. found.Options.Select(option => OfferedOption.Of(candidate.Id, option, problem))])), end);
        // The search itself measures the chances only if it was not ended.
        if (!isDropped())
            offer = offer with
            {
                Options = [.. offer.Options.Select(option => option.Chance is not null ? option
                    : option with { Chance = HoldChance.Of(problem, PlanConverter.ScheduleOf(problem, option.Plan)) })],
            };
        if (candidate.Limits.ChancePercent is not null)
            offer = new ReplanOffer(ChanceOverride.WithOwnGoals(problem, offer.Plan),
                [.. offer.Options.Select(option => option with
                {
                    Plan = ChanceOverride.WithOwnGoals(problem, option.Plan),
                    Chance = option.Chance is { } measured ? measured with { AskedPercent = input.Week.Hold.Chance } : null,
                })]);
        return candidate.WithResult(offer, problem);
    }
}
