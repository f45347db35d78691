using SetWeek.Bench;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Annealing;

public class FirstPlanTests
{
    [Theory]
    [InlineData(200, 1), InlineData(500, 1), InlineData(500, 2)]
    public void A_week_of_hundreds_of_tasks_has_a_first_plan_after_little_effort(int tasks, int seed)
    {
        var problem = Problem.Of(WeekGenerator.Make(WeekGenerator.Size.Of(tasks), seed));
        var (incumbent, budget) = (new Incumbent(problem), new Budget(new SearchLimits { Effort = 1, Workers = 1 }, default));
        Assert.True(new HeuristicSearch(problem, incumbent, budget).FindFirst());
        Assert.Empty(Checker.Check(problem, incumbent.Best!));
        Assert.InRange(budget.Used, 0, 0.1);
    }
}
