using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A week and a plan of it, before or after mitigations.</summary>
/// <param name="Week">The week that is simulated.</param>
/// <param name="PlanningWeek">The week that is planned; its tasks may have buffers in their minutes.</param>
/// <param name="Schedule">The plan that is simulated.</param>
/// <param name="Replan">The published plan and the facts since; null before the first publication.</param>
/// <param name="Limits">Limits of each new plan.</param>
/// <param name="PlanningDeadline">When cancelled, no new plan is made.</param>
internal sealed record MitigationCase(
    Week Week, Week PlanningWeek, Schedule Schedule, Replan? Replan, SearchLimits Limits, CancellationToken PlanningDeadline)
{
    public Problem Problem => Problem.Of(Week, Replan);

    /// <summary>The same plan in a changed week.</summary>
    public MitigationCase WithChange(WeekChange change) =>
        this with { Week = change.Apply(Week), PlanningWeek = change.Apply(PlanningWeek) };

    /// <summary>Plans the week again within the limits; null if no plan was found before the deadline.</summary>
    public MitigationCase? PlanAgain()
    {
        var plan = Planner.Plan(PlanningWeek, Limits, Replan, stop: PlanningDeadline);
        // A plan of an interrupted search would understate what the mitigation does.
        return plan.Nights.Count == 0 || PlanningDeadline.IsCancellationRequested ? null
            : this with { Schedule = PlanConverter.ScheduleOf(Problem, plan) };
    }
}

/// <summary>
/// A change to the week that may make its plan hold more often. It keeps the indices of the week's tasks, people and nights.
/// </summary>
internal abstract record MitigationCandidate
{
    public abstract WeekChange Change { get; }

    /// <summary>True: the week has to be planned again; false: the change is made in the plan as it is.</summary>
    public virtual bool NeedsNewPlan => false;

    public virtual string Sentence(Week week) => Change.Sentence(week);

    /// <summary>The week and plan with the change; null if the change cannot be made.</summary>
    public abstract MitigationCase? Apply(MitigationCase mitigationCase);
}
