using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Service.Plans;

/// <summary>The changes of a re-plan against the plan that was published when it was computed.</summary>
/// <param name="Moved">Stints and clean-downs that have another night, other times or people, or are added or dropped.</param>
/// <param name="Told">For each person to tell: the sentences that a lead can read out.</param>
/// <param name="Cost">Left out for callers who may not see pay.</param>
public sealed record ChangesView(
    IReadOnlyList<WorkChange> Moved, IReadOnlyList<ShiftChange> Shifts, IReadOnlyList<Notification> Told, CostChange? Cost,
    IReadOnlyList<GoalValue> Goals)
{
    /// <returns>Null for a first plan, and if there is no plan.</returns>
    public static ChangesView? Of(CandidatePlan candidate, PlannerInput input)
    {
        if (candidate is not { Plan: { Nights.Count: > 0 } plan, Replaces: { } published }) return null;
        var problem = Problem.Of(input.Week, new Replan(published, candidate.Now, []));
        var changes = PlanChanges.Between(problem, published, plan);
        return new ChangesView(changes.Work, changes.Shifts, changes.Notifications, changes.Cost, plan.Goals);
    }
}
