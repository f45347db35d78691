using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public class IncumbentTests
{
    private static readonly GoalChoice[] Goals = [new(GoalId.LeftOut), new(GoalId.Cost, 10), new(GoalId.Finish)];

    /// <summary>
    /// The plan of cost 50 leaves a want out, so it does not count. The cap of cost is 10 % above 100.
    /// </summary>
    [Fact]
    public void A_tolerance_counts_from_the_best_plan_within_the_caps_of_earlier_goals()
    {
        var (caps, remaining) = Incumbent.FilterLexicographically([[0, 100, 50], [1, 50, 50], [0, 111, 10]], Goals);

        Assert.Equal([0, 110, 50], caps);
        Assert.Equal([[0, 100, 50]], remaining);
    }

    [Fact]
    public void Within_the_tolerance_of_a_goal_the_next_goal_decides()
    {
        var (_, remaining) = Incumbent.FilterLexicographically([[0, 100, 50], [0, 109, 40]], Goals);

        Assert.Equal([[0, 109, 40]], remaining);
    }
}
