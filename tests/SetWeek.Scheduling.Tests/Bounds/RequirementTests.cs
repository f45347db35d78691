using SetWeek.Scheduling.Explanations;
using SetWeek.Scheduling.Search;
using SetWeek.Scheduling.Search.Bounds;
using Xunit;
using static SetWeek.Scheduling.Tests.Bounds.Given;

namespace SetWeek.Scheduling.Tests.Bounds;

/// <summary>
/// Weeks that no certificate explains and the exact model proves impossible: the requirement named is one without which there
/// is a plan.
/// </summary>
public sealed class RequirementTests
{
    /// <summary>
    /// Three pieces of 80 minutes for two people in a night of 120: by minutes (240 of 240) they fit, side by side they do not.
    /// A longer night is the first thing that would help.
    /// </summary>
    [Fact]
    public void Pieces_that_do_not_fit_side_by_side_are_put_down_to_the_length_of_the_night()
    {
        var week = Week(1, Task("left", 80), Task("middle", 80), Task("right", 80));
        var why = Behind(week);
        Assert.Equal(("window", "n1"), (why.Rule, why.About.Night));
    }

    /// <summary>The same with a kit for each that comes a night late: two of three nights would do.</summary>
    [Fact]
    public void A_kit_that_leaves_one_night_for_pieces_that_need_two_is_named()
    {
        SetTask Waiting(string id) => Task(id, 80) with { Needs = [new("props")] };
        var week = Week(2, Waiting("left"), Waiting("middle"),
            Waiting("right")) with { Kits = [new("props", "Props", Evening(1))] };
        var why = Behind(week);
        Assert.Equal(("kit", "props"), (why.Rule, why.About.Kit));
    }

    /// <summary>Two such nights' worth, each with a due of its own: taking away one of them leaves the other.</summary>
    [Fact]
    public void Where_no_requirement_stands_in_the_way_alone_it_says_so()
    {
        var early = new[] { "a", "b", "c" }.Select(id => Task(id, 80) with { Needs = [new("first")], Due = "n1" });
        var late = new[] { "x", "y", "z" }.Select(id =>
            Task(id, 80) with { Needs = [new("second")], Due = "n2", Display = "shelf" });
        var week = Week(2, [.. early, .. late]) with
        {
            Kits = [new("first", "First", Evening(0)), new("second", "Second", Evening(1))],
            Displays = [new("wall", "Wall", Promise.Must), new("shelf", "Shelf", Promise.Must)],
        };
        Assert.Contains("no single requirement", Behind(week).Sentence, StringComparison.Ordinal);
    }

    private static Breach Behind(Week week)
    {
        var problem = Problem.Of(week);
        Assert.False(Certificates.Of(problem).Impossible);
        Assert.Null(Plan(problem, Budget()));
        return Requirement.Behind(problem, Budget(), Plan);
    }

    private static Budget Budget() => new(new Limits { Effort = 60, Workers = 1 }, CancellationToken.None);

    private static Schedule? Plan(Problem problem, Budget budget)
    {
        var incumbent = new Incumbent(problem);
        ExactSearch.Solve(problem, incumbent, budget);
        return incumbent.Best;
    }
}
