using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Checking;

public class PlanAuditTests
{
    private static readonly Problem Problem = Problem.Of(ExampleFiles.Week);

    private static IReadOnlyList<string> Discrepancies(Plan plan) => PlanAudit.Discrepancies(Problem, plan);

    /// <summary>The example plan with another value and bound of a goal.</summary>
    private static Plan With(GoalValue changed, PlanStatus status = PlanStatus.Feasible) => ExampleFiles.Plan with
    {
        Status = status, Goals = [.. ExampleFiles.Plan.Goals.Select(goal => goal.Goal == changed.Goal ? changed
            : status == PlanStatus.Optimal ? goal with { Bound = goal.Value } : goal)],
    };

    // Ada and Bo are paid 310 minutes on Thursday (20:30 to 02:00 less a break of 20) and 180 on Friday, Cy 180 on Friday:
    // (490 x 1550 + 490 x 1325 + 180 x 975) / 60 = 26404.16..., rounded up.
    [Fact]
    public void The_measured_cost_of_the_example_plan_is_correct() =>
        Assert.Equal(26405, PlanAudit.Measure(Problem, ExampleFiles.Plan, GoalId.Cost));

    [Fact]
    public void The_example_plan_has_no_discrepancy() => Assert.Empty(Discrepancies(ExampleFiles.Plan));

    /// <summary>The zone has no clean-down. A plan with one breaks a rule, and its chance to hold is not defined.</summary>
    [Fact]
    public void The_chance_of_a_plan_that_breaks_rules_is_not_measured()
    {
        var tiny = TinyWeek.New.With(week => week with { Goals = [new(GoalId.Hold)] }).Plan
            .CleanDown("mon", "wall", "22:00", "22:10");
        Assert.NotEmpty(tiny.BrokenRules);
        Assert.Empty(PlanAudit.Discrepancies(tiny.Problem, tiny.AsPlan with { Goals = [new(GoalId.Hold, 5, 0)] }));
    }

    [Fact]
    public void A_wrong_value_is_found() =>
        Assert.Equal(["The plan says that cost is 26404; it is 26405."],
            Discrepancies(With(new(GoalId.Cost, 26404, null))));

    [Fact]
    public void A_bound_above_its_value_is_found() =>
        Assert.Contains("below its lower bound",
            Assert.Single(Discrepancies(With(new(GoalId.Cost, 26405, 26406)))));

    [Fact]
    public void Status_optimal_without_matching_bounds_is_found()
    {
        Assert.Contains("optimal",
            Assert.Single(
                Discrepancies(With(new(GoalId.LeftOut, 0, null), PlanStatus.Optimal))));
        // The week allows a cost 2 % above the optimum: 25888 + 517 is 26405.
        Assert.Empty(Discrepancies(With(new(GoalId.Cost, 26405, 25888), PlanStatus.Optimal)));
        Assert.NotEmpty(Discrepancies(With(new(GoalId.Cost, 26405, 25887), PlanStatus.Optimal)));
    }

    [Fact]
    public void Status_optimal_without_goals_is_found() =>
        Assert.Contains("no value for the goals",
            Assert.Single(Discrepancies(ExampleFiles.Plan with { Status = PlanStatus.Optimal, Goals = [] })));

    [Fact]
    public void Other_goals_than_those_of_the_week_or_in_another_order_are_found()
    {
        var goals = ExampleFiles.Plan.Goals;
        var asked = string.Join(", ", ExampleFiles.Week.Goals.Select(goal => goal.Goal.Text()));
        Assert.Equal([$"The plan gives the goals cost; the week asks for {asked}, or in a re-plan leftOut, changes, cost, in this "
            + "order and no others."], Discrepancies(ExampleFiles.Plan with { Goals = [goals[1]] }));
        Assert.Single(Discrepancies(ExampleFiles.Plan with { Goals = [.. goals.Reverse()] }));
        Assert.Single(Discrepancies(ExampleFiles.Plan with { Goals = [.. goals, new(GoalId.Shifts,
            PlanAudit.Measure(Problem, ExampleFiles.Plan, GoalId.Shifts), null)] }));
    }

    [Fact]
    public void A_replan_gives_the_goals_of_a_replan()
    {
        var replan = new Replan(ExampleFiles.Plan, ExampleFiles.Week.Nights[0].Opens.PlusHours(-5), []);
        var discrepancies = PlanAudit.Discrepancies(Problem.Of(ExampleFiles.Week, replan), ExampleFiles.Plan);
        Assert.EndsWith("the week asks for leftOut, changes, cost, in this order and no others.", Assert.Single(discrepancies));
    }

    [Fact]
    public void A_planned_want_listed_as_left_out_is_found() =>
        Assert.Equal(["The plan lists Rain canopy as left out, but does not leave it out."],
            Discrepancies(ExampleFiles.Plan with { LeftOut = ["canopy"] }));

    [Fact]
    public void A_want_left_out_but_not_listed_is_found()
    {
        var without = ExampleFiles.Plan with
        {
            Goals = [],
            Nights = [.. ExampleFiles.Plan.Nights.Select(night => night with
            {
                Work = [.. night.Work.Where(work => work.Task?.StartsWith("canopy.", StringComparison.Ordinal) != true)],
            })],
        };
        Assert.Equal(["The plan leaves out Rain canopy but does not list it as left out."], Discrepancies(without));
    }

    // Another program computed the values in this plan. Its goals are not those of a week that names none.
    [SharedFact]
    public void The_small_plan_has_no_discrepancy()
    {
        var week = WeekFile.Read(SharedFactAttribute.Read("small.week.json")).AsT0;
        var plan = PlanFile.Read(SharedFactAttribute.Read("small.plan.json"), week).AsT0;
        Assert.NotEmpty(plan.Goals);
        week = week with { Goals = [.. plan.Goals.Select(goal => new GoalChoice(goal.Goal))] };
        Assert.Empty(PlanAudit.Discrepancies(Problem.Of(week), plan));
    }
}
