using SetWeek.Model.Comparing;
using SetWeek.Model.Problems;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Domain.Plans;

/// <summary>
/// An option of a re-plan, as it is stored and compared with the others. Its plan is stored in a candidate.
/// </summary>
/// <param name="Id">The kind of the option: "cheapest".</param>
/// <param name="PlanId">The candidate that holds its plan. For the first option it is the requested candidate.</param>
/// <param name="Costs">The values of the goals: the same goals in the same order for every option.</param>
/// <param name="Shifts">Number of changed shifts.</param>
/// <param name="Moved">Number of stints in another night than published.</param>
/// <param name="Told">Number of people to tell about changes.</param>
/// <param name="Chance">The chance that its plan holds; null while the search runs, and where it was stopped.</param>
public sealed record OfferedOption(
    string Id, string PlanId, string Name, string Sentence, IReadOnlyList<OptionCost> Costs, int Shifts, int Moved, int Told,
    HoldChance? Chance = null)
{
    /// <param name="problem">The problem of the re-plan.</param>
    public static OfferedOption Of(string planId, Option option, Problem problem)
    {
        var changes = PlanChanges.Between(problem, problem.Replan!.Published, option.Plan);
        return new OfferedOption(option.Id, planId, option.Name, option.Sentence, option.Costs, changes.Shifts.Count,
            changes.Work
                .Count(work => work is { NightWas: not null, NightNow: not null, ChangedNight: true, Work.Task: not null }),
            changes.Notifications.Count, option.Chance);
    }
}
