using SetWeek.Model.Changes;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

public class WhatIfTests
{
    private static readonly SearchLimits Limits = new() { Effort = 2, Workers = 1 };

    /// <summary>One hour of work, which Ana does at 12.00 on Monday. Nobody else is available on Monday.</summary>
    private static readonly Week Week = TinyWeek.New.Task("paint", 60)
        .Person("bo", bo => bo with { RatePerHour = 1500, Available = [new("tue")] })
        .Person("cy", cy => cy with { RatePerHour = 1500, Available = [new("tue")] }).Week;

    [Fact]
    public void Without_a_published_plan_the_answer_is_compared_with_the_unchanged_week()
    {
        var changed = WeekChange.Apply(Week, [new Absence("ana", "mon"), new Absence("ana", "tue"), new Absence("ana", "wed")]);

        var answer = WhatIf.Evaluate(Week, changed, Limits, replan: null);

        Assert.Equal(("asItStands", PlanStatus.Optimal), (answer.Difference!.Baseline, answer.Plan.Status));
        Assert.Equal(new GoalDifference(GoalId.Cost, 1200, 1500),
            answer.Difference.Goals.Single(goal => goal.Goal == GoalId.Cost));
        Assert.Contains(answer.Difference.Changes.Shifts, change => change is { Person: "ana", Now: null });
        Assert.Empty(answer.Difference.Changes.Notifications); // no plan is published, so nobody is notified
    }

    /// <summary>A shift is dropped (2), a shift in another night is added (2), and the stint changes its night (1).</summary>
    [Fact]
    public void With_a_published_plan_the_answer_is_a_replan_compared_with_it()
    {
        var published = Planner.Plan(Week, Limits);
        var replan = new Replan(published, TinyWeek.Local("2027-03-08T12:00"), []);

        var answer = WhatIf.Evaluate(Week, new Absence("ana", "mon").Apply(Week), Limits, replan);

        Assert.Equal("published", answer.Difference!.Baseline);
        Assert.Equal(new GoalDifference(GoalId.Changes, 0, 5),
            answer.Difference.Goals.Single(goal => goal.Goal == GoalId.Changes));
        Assert.Equal("ana", answer.Difference.Changes.Notifications[0].Person);
    }

    [Fact]
    public void Without_a_plan_of_the_changed_week_there_is_a_conflict_and_no_comparison()
    {
        var answer = WhatIf.Evaluate(Week, new LaunchTimeMoved(TinyWeek.Local("2027-03-08T22:30")).Apply(Week), Limits, replan: null);

        Assert.Equal(PlanStatus.Infeasible, answer.Plan.Status);
        Assert.NotEmpty(answer.Plan.Conflict);
        Assert.Null(answer.Difference);
    }
}
