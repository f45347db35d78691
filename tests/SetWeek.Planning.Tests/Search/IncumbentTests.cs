using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public class IncumbentTests
{
    private static readonly GoalChoice[] Goals = [new(GoalId.LeftOut), new(GoalId.Cost, 10), new(GoalId.Finish)];

    /// <summary>
    /// A plan that leaves a want out is no measure of the cost of those that do not: cost may be 10 % above 100, not above 50.
    /// </summary>
    [Fact]
    public void A_tolerance_counts_from_the_best_among_plans_that_the_goals_above_leave_in()
    {
        var (most, left) = Incumbent.FilterLexicographically([[0, 100, 50], [1, 50, 50], [0, 111, 10]], Goals);

        Assert.Equal([0, 110, 50], most);
        Assert.Equal([[0, 100, 50]], left);
    }

    [Fact]
    public void Within_its_tolerance_a_goal_gives_way_to_the_next()
    {
        var (_, left) = Incumbent.FilterLexicographically([[0, 100, 50], [0, 109, 40]], Goals);

        Assert.Equal([[0, 109, 40]], left);
    }
}
