using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Domain.Plans;

/// <summary>Checks a plan against the facts of the moment: the rules, and what has begun.</summary>
public static class PublishCheck
{
    /// <summary>
    /// The rules that the plan breaks now. Reports that agree with the plan break none. Begun work that differs from the plan
    /// breaks the rule that the past is kept.
    /// </summary>
    /// <param name="input">The input of the planner at this moment.</param>
    public static IReadOnlyList<Breach> Breaches(StoreWeek week, PlannerInput input, Plan plan)
    {
        var replan = input.Replan is { } facts
            ? facts with
            {
                Progress = AgreedProgress.Of(plan, facts.Published, facts.Progress, StoreTime.InstantOf(week, facts.Now)),
            }
            : null;
        var problem = Problem.Of(input.Week, replan);
        return Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan));
    }

    /// <summary>
    /// Whether a plan can still be published after the event, if it keeps the rules: the event is a report from the floor, or
    /// changes nothing that the planner reads. A decision changes its input.
    /// </summary>
    public static bool IsFloorFact(IWeekEvent e) =>
        e is IFloorReport or KitCounted or PlanBroken or PlanHoldsAgain or QuestionAsked or QuestionAnswered or MemoRead
            or INotificationEvent;
}
