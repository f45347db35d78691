using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Annealing;

public class SecondSearchTests
{
    [Theory]
    [InlineData("medium", 4), InlineData("large", 8)]
    public void A_second_search_improves_the_best_plan(string size, int seed)
    {
        var problem = Problem.Of(PlannerTests.Generated(size, seed));
        var incumbent = new Incumbent(problem);
        Budget Units(double effort) => new(new SearchLimits { Effort = effort, Workers = 1 }, default);
        var first = new HeuristicSearch(problem, incumbent, Units(0.5));
        Assert.True(first.FindFirst());
        first.Improve();
        var before = incumbent.Values!;
        new HeuristicSearch(problem, incumbent, Units(0.5), asSecondSearch: true).Improve();
        Assert.True(incumbent.Values!.AsSpan().SequenceCompareTo(before) < 0, string.Join(" ", before.Concat(incumbent.Values!)));
        Assert.Empty(Checker.Check(problem, incumbent.Best!));
    }
}
