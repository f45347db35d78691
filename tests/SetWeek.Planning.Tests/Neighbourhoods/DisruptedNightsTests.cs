using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Neighbourhoods;

/// <summary>
/// Bo is absent on Monday, where Ana and Bo each have an hour of work from 22:00. The changes are counted by hand. No search runs
/// beside the one tested, so its plan is the only one.
/// </summary>
public class DisruptedNightsTests
{
    private static readonly TinyWeek ThreeNights = TinyWeek.New.With(week => week with
    {
        ReplanGoals = [new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Cost)],
    }).Task("hang", 60).Task("dress", 60).Task("sign", 60).Task("price", 60);

    /// <summary>
    /// Cy is on shift and idle on Monday: he does Bo's work, so only Bo's shift is dropped (2). Tuesday and Wednesday stay.
    /// </summary>
    [Fact]
    public void Somebody_on_shift_takes_over_the_work_of_the_absent_person()
    {
        var (values, plan) = Replan(ThreeNights, Published(ThreeNights).Shift("mon", "cy", "22:00", "23:00"));
        Assert.Equal(2, values[1]);
        Assert.Equal(["cy"], plan.Nights[0].Work.Single(work => work.Task == "dress").People.Select(person => person.Person));
    }

    /// <summary>
    /// Nobody else can come on Monday, which ends at 23:00. Bo's shift is dropped (2) and his work moves to Tuesday (1), where
    /// Ana's shift has an hour without work.
    /// </summary>
    [Fact]
    public void Work_that_finds_nobody_moves_to_another_night()
    {
        var week = ThreeNights.Night("mon", night => night with { Closes = TinyWeek.Local("2027-03-08T23:00") })
            .Person("cy", member => member with { Available = [new("tue"), new("wed")] });
        var (values, plan) = Replan(week, Published(week));
        Assert.Equal(3, values[1]);
        Assert.Contains(plan.Nights, night => night.Night == "tue" && night.Work.Any(work => work.Task == "dress"));
        Assert.Contains(plan.Nights, night => night.Night == "wed" && night.Work.Any(work => work.Task == "price"));
    }

    /// <summary>Without an absence the published plan keeps the rules, and there is nothing to look for.</summary>
    [Fact]
    public void Nothing_is_searched_while_the_published_plan_keeps_the_rules()
    {
        var problem = ThreeNights.Replan(Published(ThreeNights), "2027-03-08T12:00").Problem;
        var budget = EffortOf(1);
        DisruptedNights.Improve(problem, new Incumbent(problem), budget, budget.Remaining);
        Assert.Equal(0, budget.Used);
    }

    private static TinyPlan Published(TinyWeek week) => week.Plan
        .Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "22:00", "23:00")
        .Shift("tue", "ana", "22:00", "00:00").Shift("wed", "ana", "22:00", "23:00")
        .Work("mon", "hang", "22:00", "23:00", "ana").Work("mon", "dress", "22:00", "23:00", "bo")
        .Work("tue", "sign", "22:00", "23:00", "ana").Work("wed", "price", "22:00", "23:00", "ana");

    private static (long[] Values, Plan Plan) Replan(TinyWeek week, TinyPlan published)
    {
        var changed = new Absence("bo", "mon").Apply(week.Week);
        var problem = Problem.Of(changed, new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T12:00"), []));
        var (incumbent, budget) = (new Incumbent(problem), EffortOf(2));
        DisruptedNights.Improve(problem, incumbent, budget, budget.Remaining);
        var (values, best) = (incumbent.Values!, incumbent.Best!);
        return (values, PlanBuilder.FromSchedule(problem, best, values, incumbent.Bounds()));
    }

    private static Budget EffortOf(double units) => new(new SearchLimits { Effort = units, Workers = 1 }, default);
}
