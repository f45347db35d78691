using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Explaining;

/// <summary>What is said of a week for which no plan was found in time.</summary>
public sealed class UnplacedStintsTests
{
    private static readonly SearchLimits NoEffort = new() { Effort = 1e-9, Workers = 1 };

    private static readonly TinyWeek OnlyAnaCan = TinyWeek.New.Person("ana", ana => ana with
    {
        Skills = new Dictionary<string, int> { ["hands"] = 3 },
    });

    private static WeekTask ForAna(WeekTask task) => task with { Modes = [new(300, [new("hands", 1) { Level = 3 }])] };

    /// <summary>Four tasks of five hours do not fit three nights of eight hours, one after another.</summary>
    [Fact]
    public void A_search_that_runs_out_of_time_names_the_work_that_its_closest_attempt_lacks()
    {
        var week = OnlyAnaCan.Task("a", 300, ForAna).Task("b", 300, ForAna).Task("c", 300, ForAna).Task("d", 300, ForAna);
        var plan = Planner.Plan(week.Week, NoEffort);
        Assert.Equal(PlanStatus.Unknown, plan.Status);
        var unplaced = Assert.Single(plan.Unplaced);
        Assert.Equal(RuleId.Whole, unplaced.Rule);
        Assert.Equal($"“{unplaced.About.Task}” needs 5 h of 1 person for hands. It could be done in the night of Mon 8 Mar, the "
            + "night of Tue 9 Mar and the night of Wed 10 Mar, but found no room beside the other work.", unplaced.Sentence);
    }

    [Fact]
    public void A_plan_that_was_found_names_none()
    {
        var week = OnlyAnaCan.Task("a", 300, ForAna).Task("b", 300, ForAna);
        Assert.Empty(Planner.Plan(week.Week, NoEffort).Unplaced);
    }

    [Fact]
    public void Work_that_no_night_has_a_time_for_says_so()
    {
        var week = TinyWeek.New.Task("a", 60).Task("late", 60).With(week => week with { Launch = TinyWeek.Local("2027-03-08T22:30") });
        Assert.EndsWith("No night has a time for it, even without other work.",
            Assert.Single(UnplacedStints.Of(week.Problem, [1])).Sentence);
    }
}
