using SetWeek.Domain.Plans;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Domain.Kits;

/// <summary>What a kit delay means for a store: who moves, whether launch can be kept, what would rescue it, the cost.</summary>
/// <param name="Shifts">Number of changed shifts.</param>
/// <param name="Moved">Number of stints in another night.</param>
/// <param name="Told">The ids of the people to tell.</param>
/// <param name="LeftOut">The ids of the displays that the re-plan leaves out.</param>
/// <param name="Cost">Wages before and after in minor units; null without a plan.</param>
/// <param name="Conflict">Why there is no plan. Sentences with marks in place of names.</param>
/// <param name="Repairs">Changes that make a plan possible, each proven. Sentences with marks in place of names.</param>
public sealed record KitDelayOutcome(
    LaunchProspect Launch, int Shifts, int Moved, IReadOnlyList<string> Told, IReadOnlyList<string> LeftOut, string Currency,
    CostChange? Cost, IReadOnlyList<string> Conflict, IReadOnlyList<string> Repairs)
{
    /// <param name="candidate">A settled re-plan, as stored.</param>
    /// <param name="problem">The problem of the re-plan.</param>
    public static KitDelayOutcome Of(CandidatePlan candidate, Problem problem)
    {
        var currency = problem.Week.Currency;
        if (candidate is not { Plan: { Nights.Count: > 0 } plan, Replaces: { } published })
            return new KitDelayOutcome(
                candidate.Plan?.Status == PlanStatus.Infeasible ? LaunchProspect.Missed : LaunchProspect.NotKnown,
                0, 0, [], [], currency, null, [.. candidate.Plan?.Conflict.Select(breach => breach.Sentence) ?? []],
                [.. candidate.Plan?.Repairs.Select(repair => repair.Sentence) ?? []]);
        var changes = PlanChanges.Between(problem, published, plan);
        return new KitDelayOutcome(LaunchProspect.Kept, changes.Shifts.Count,
            changes.Work.Count(work =>
                work is { NightWas: not null, NightNow: not null, ChangedNight: true, Work.Task: not null }),
            [.. changes.Notifications.Select(notification => notification.Person)], plan.LeftOut, currency, changes.Cost, [], []);
    }
}

/// <summary>
/// Kept: a plan is ready by launch. Missed: it is proven that none exists. NotKnown: none was found in the time given.
/// </summary>
public enum LaunchProspect { Kept, Missed, NotKnown }
