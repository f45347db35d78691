using SetWeek.Model.Changes;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Changes;

public class WhatIfTests
{
    private static readonly SearchLimits Limits = new() { Effort = 2, Workers = 1 };

    /// <summary>An hour's work, which Ana does at 12.00; nobody else is there on Monday.</summary>
    private static readonly Week Week = TinyWeek.New.Task("paint", 60)
        .Person("bo", bo => bo with { RatePerHour = 1500, Available = [new("tue")] })
        .Person("cy", cy => cy with { RatePerHour = 1500, Available = [new("tue")] }).Week;

    [Fact]
    public void Before_a_plan_is_published_the_plan_is_set_beside_one_of_the_week_as_it_stands()
    {
        var changed = WeekChange.Apply(Week, [new Absence("ana", "mon"), new Absence("ana", "tue"), new Absence("ana", "wed")]);

        var answer = WhatIf.Evaluate(Week, changed, Limits, replan: null);

        Assert.Equal(("asItStands", PlanStatus.Optimal), (answer.Difference!.Baseline, answer.Plan.Status));
        Assert.Equal(new GoalDifference(GoalId.Cost, 1200, 1500), answer.Difference.Goals.Single(goal => goal.Goal == GoalId.Cost));
        Assert.Contains(answer.Difference.Changes.Shifts, change => change is { Person: "ana", Now: null });
        Assert.Empty(answer.Difference.Changes.Notifications); // nobody has a plan yet
    }

    /// <summary>A shift is dropped (2), one is added in another night (2), and the stint is in another night (1).</summary>
    [Fact]
    public void Once_a_plan_is_published_the_changed_week_is_re_planned_and_compared_with_it()
    {
        var published = Planner.Plan(Week, Limits);
        var replan = new Replan(published, TinyWeek.Local("2027-03-08T12:00"), []);

        var answer = WhatIf.Evaluate(Week, new Absence("ana", "mon").Apply(Week), Limits, replan);

        Assert.Equal("published", answer.Difference!.Baseline);
        Assert.Equal(new GoalDifference(GoalId.Changes, 0, 5), answer.Difference.Goals.Single(goal => goal.Goal == GoalId.Changes));
        Assert.Equal("ana", answer.Difference.Changes.Notifications[0].Person);
    }

    [Fact]
    public void Where_the_changes_leave_no_plan_there_is_its_reason_and_nothing_to_compare()
    {
        var answer = WhatIf.Evaluate(Week, new LaunchMoved(TinyWeek.Local("2027-03-08T22:30")).Apply(Week), Limits, replan: null);

        Assert.Equal(PlanStatus.Infeasible, answer.Plan.Status);
        Assert.NotEmpty(answer.Plan.Conflict);
        Assert.Null(answer.Difference);
    }
}
