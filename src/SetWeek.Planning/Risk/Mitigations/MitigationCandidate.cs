using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Risk.Mitigations;

/// <summary>A week with its plan, as a remedy finds and leaves it.</summary>
/// <param name="Week">What the runs are drawn from.</param>
/// <param name="PlanningWeek">What a plan is made from: there a task may be given more time than it is likely to take.</param>
/// <param name="PlanningDeadline">No other plan is made from then on.</param>
internal sealed record MitigationCase(Week Week, Week PlanningWeek, Schedule Schedule, Replan? Replan, SearchLimits Limits, CancellationToken PlanningDeadline)
{
    public Problem Problem => Problem.Of(Week, Replan);

    /// <summary>Another plan, quickly; null where none was found, or it was too late for it.</summary>
    public MitigationCase? PlanAgain()
    {
        var plan = Planner.Plan(PlanningWeek, Limits, Replan, stop: PlanningDeadline);
        // What a search cut short came to says little of the remedy.
        return plan.Nights.Count == 0 || PlanningDeadline.IsCancellationRequested ? null
            : this with { Schedule = PlanConverter.ScheduleOf(Problem, plan) };
    }
}

/// <summary>Something that may make a plan hold more often. It keeps the order of the week's tasks, people and nights.</summary>
internal abstract record MitigationCandidate
{
    public abstract WeekChange Change { get; }

    /// <summary>Needs another plan; else the plan stays and the change is made in it.</summary>
    public virtual bool NeedsNewPlan => false;

    public virtual string Sentence(Week week) => Change.Sentence(week);

    /// <summary>Null where it cannot be done.</summary>
    public abstract MitigationCase? Apply(MitigationCase mitigationCase);
}
