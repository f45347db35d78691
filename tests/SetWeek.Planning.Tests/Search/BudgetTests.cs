using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public sealed class BudgetTests
{
    [Fact]
    public void A_part_of_less_than_nothing_is_nothing()
    {
        var budget = new Budget(new Limits { Time = TimeSpan.Zero }, CancellationToken.None);
        Assert.True(budget.Part(-0.04).Spent);
        Assert.True(new Budget(new Limits { Effort = 1 }, CancellationToken.None).Part(-1).Spent);
    }

    [Fact]
    public void A_part_is_no_more_than_what_is_left()
    {
        var budget = new Budget(new Limits { Effort = 3 }, CancellationToken.None);
        budget.Use(2);
        Assert.Equal(1, budget.Part(5).Left);
        Assert.Equal(0.5, budget.Part(0.5).Left);
    }
}
