using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>Plans of weeks after a change.</summary>
public class ChangedWeekTests
{
    private static readonly Week Week = TinyWeek.New
        .Display("banner", display => display)
        .Display("wall", display => display with { Alternate = new("banner", 40) })
        .Task("paint", 60, task =>
            task with { Due = "mon", Estimate = new(30, 120), Modes = [new(60, [new("hands", 1)]), new(45, [new("hands", 2)])] })
        .Task("hang", 30, task => task with { Display = "banner" }).Week;

    /// <summary>
    /// The change makes the must's alternate compulsory. Each plan of the changed week is also a plan of the original week.
    /// </summary>
    [Fact]
    public void A_plan_with_the_alternate_is_a_plan_of_the_original_week()
    {
        var plan = Planner.Plan(new UseAlternate("wall").Apply(Week), new SearchLimits { Effort = 2, Workers = 1 });

        Assert.Equal(["hang"], plan.Nights.SelectMany(night => night.Work).Select(work => work.Task));
        var problem = Problem.Of(Week);
        Assert.Empty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)));
        Assert.Equal(40, plan.Goals[0].Value);
    }

    /// <summary>The alternate takes ten hours and a night has eight.</summary>
    [Fact]
    public void A_conflict_with_an_excluded_display_names_it_and_no_internal_kit()
    {
        var week = Week with { Tasks = [Week.Tasks[0], Week.Tasks[1] with { Modes = [new(600, [new("hands", 1)])] }] };

        var plan = Planner.Plan(new UseAlternate("wall").Apply(week), new SearchLimits { Effort = 5, Workers = 1 });

        Assert.Contains(plan.Conflict, member => member.Sentence == "“The wall” is left out of this week.");
        Assert.NotEmpty(plan.Repairs);
        Assert.DoesNotContain(plan.Repairs, repair => repair.Sentence.Contains("Held back", StringComparison.Ordinal));
    }

    [Fact]
    public void A_must_left_out_counts_one_hundred()
    {
        var plan = Planner.Plan(new LeaveOut("wall").Apply(Week), new SearchLimits { Effort = 2, Workers = 1 });

        Assert.Equal((100L, "wall"), (plan.Goals[0].Value, plan.LeftOut.Single()));
        Assert.Empty(plan.Nights.SelectMany(night => night.Work));
    }
}
