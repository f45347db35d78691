using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Service.Plans;

/// <summary>What a re-plan changes of the plan that was published when it was worked out.</summary>
/// <param name="Moved">Stints and clean-downs with another night, other times or other people, added or dropped.</param>
/// <param name="Told">By person: what they have to be told, in sentences that a lead can read out.</param>
public sealed record ChangesView(
    IReadOnlyList<WorkChange> Moved, IReadOnlyList<ShiftChange> Shifts, IReadOnlyList<Notification> Told, CostChange Cost,
    IReadOnlyList<GoalValue> Goals)
{
    /// <summary>Null for a first plan, and where there is no plan.</summary>
    public static ChangesView? Of(CandidatePlan candidate, PlannerInput input)
    {
        if (candidate is not { Plan: { Nights.Count: > 0 } plan, Replaces: { } published }) return null;
        var problem = Problem.Of(input.Week, new Replan(published, candidate.Now, []));
        var changes = PlanChanges.Between(problem, published, plan);
        return new ChangesView(changes.Work, changes.Shifts, changes.Notifications, changes.Cost, plan.Goals);
    }
}
