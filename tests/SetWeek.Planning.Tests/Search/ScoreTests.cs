using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public class ScoreTests
{
    private static readonly string[] All = ["leftOut", "reserve", "cost", "finish", "nights", "shifts", "moves", "uneven"];

    [Theory]
    [InlineData("small", 3), InlineData("medium", 8), InlineData("large", 2)]
    public void The_search_counts_every_goal_as_the_goal_measures_it(string size, int seed)
    {
        var week = PlannerTests.Generated(size, seed) with { Goals = [.. All.Select(goal => new GoalChoice(goal))] };
        var problem = Problem.Of(week);
        var image = new Image(problem);
        var draft = new Draft(image);
        var plan = PlanTimes.ScheduleOf(problem, Planner.Plan(week, new Limits { Effort = 0.1, Workers = 1 }));
        new Adoption(image, new PersonNight(image)).Take(draft, Beginning.Of(image), plan);
        var values = new long[All.Length];
        new Score(image).Fill(draft, values);
        Assert.Equal(All.Select(goal => AllGoals.Named(goal).Measure(problem, plan)), values);
    }
}
