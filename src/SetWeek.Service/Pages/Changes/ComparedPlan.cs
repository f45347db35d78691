using SetWeek.Domain.Plans;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Service.Pages.Changes;

/// <summary>A plan beside the published one: an option of a re-plan, or its only plan.</summary>
/// <param name="Id">The id of the plan.</param>
/// <param name="Costs">The values of the goals that are compared; empty if the plan is the only one.</param>
public sealed record ComparedPlan(
    string Id, string Name, string? Sentence, IReadOnlyList<OptionCost> Costs, Plan Plan, PlanChanges Changes, HoldChance? Chance)
{
    /// <param name="candidate">A candidate with a plan, which is compared with the plan that it replaces.</param>
    public static ComparedPlan Of(Week week, CandidatePlan candidate)
    {
        var published = candidate.Replaces!;
        var option = candidate.Options.FirstOrDefault(option => option.PlanId == candidate.Id);
        return new ComparedPlan(candidate.Id, option?.Name ?? "The new plan", option?.Sentence, option?.Costs ?? [],
            candidate.Plan!,
            PlanChanges.Between(Problem.Of(week, new Replan(published, candidate.Now, [])), published, candidate.Plan!),
            candidate.Chance);
    }

    /// <summary>Its changed shift of a person in a night; null if that one stays.</summary>
    public ShiftChange? ShiftOf(string person, string night) =>
        Changes.Shifts.FirstOrDefault(change => change.Person == person && change.Night == night);

    /// <summary>The people who are told about a shift.</summary>
    public int ToldAboutShifts => Changes.Shifts.Select(change => change.Person).Distinct().Count();
}
