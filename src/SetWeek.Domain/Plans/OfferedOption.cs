using SetWeek.Model.Comparing;
using SetWeek.Model.Problems;
using SetWeek.Planning.Replanning;

namespace SetWeek.Domain.Plans;

/// <summary>
/// One of the options that a re-plan offers, as it is stored and shown beside the others; its plan is a candidate of its own.
/// </summary>
/// <param name="Id">Of its kind: "cheapest".</param>
/// <param name="PlanId">The candidate that holds its plan; of the first option, the one that was asked for.</param>
/// <param name="Costs">The same goals in the same order for each.</param>
/// <param name="Shifts">Shifts of which people have to be told.</param>
/// <param name="Moved">Stints in another night than published.</param>
/// <param name="Told">People who have to be told something.</param>
public sealed record OfferedOption(
    string Id, string PlanId, string Name, string Sentence, IReadOnlyList<OptionCost> Costs, int Shifts, int Moved, int Told)
{
    /// <param name="problem">Of the re-plan that it is an option of.</param>
    public static OfferedOption Of(string planId, Option option, Problem problem)
    {
        var changes = PlanChanges.Between(problem, problem.Replan!.Published, option.Plan);
        return new OfferedOption(option.Id, planId, option.Name, option.Sentence, option.Costs, changes.Shifts.Count,
            changes.Work
                .Count(work => work is { NightWas: not null, NightNow: not null, ChangedNight: true, Work.Task: not null }),
            changes.Notifications.Count);
    }
}
