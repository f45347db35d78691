using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Search;

public sealed class BudgetTests
{
    [Fact]
    public void A_child_budget_of_negative_size_is_spent()
    {
        var budget = new Budget(new SearchLimits { Time = TimeSpan.Zero }, CancellationToken.None);
        Assert.True(budget.CreateChild(-0.04).Spent);
        Assert.True(new Budget(new SearchLimits { Effort = 1 }, CancellationToken.None).CreateChild(-1).Spent);
    }

    [Fact]
    public void A_child_budget_is_clamped_to_what_remains()
    {
        var budget = new Budget(new SearchLimits { Effort = 3 }, CancellationToken.None);
        budget.Charge(2);
        Assert.Equal(1, budget.CreateChild(5).Remaining);
        Assert.Equal(0.5, budget.CreateChild(0.5).Remaining);
    }
}
