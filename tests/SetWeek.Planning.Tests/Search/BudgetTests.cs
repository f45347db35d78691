using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public sealed class BudgetTests
{
    [Fact]
    public void A_part_of_less_than_nothing_is_nothing()
    {
        var budget = new Budget(new SearchLimits { Time = TimeSpan.Zero }, CancellationToken.None);
        Assert.True(budget.CreateChild(-0.04).Spent);
        Assert.True(new Budget(new SearchLimits { Effort = 1 }, CancellationToken.None).CreateChild(-1).Spent);
    }

    [Fact]
    public void A_part_is_no_more_than_what_is_left()
    {
        var budget = new Budget(new SearchLimits { Effort = 3 }, CancellationToken.None);
        budget.Charge(2);
        Assert.Equal(1, budget.CreateChild(5).Remaining);
        Assert.Equal(0.5, budget.CreateChild(0.5).Remaining);
    }
}
