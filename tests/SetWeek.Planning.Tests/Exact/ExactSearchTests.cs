using SetWeek.Model.Weeks;
using System.Diagnostics;
using SetWeek.Bench;
using SetWeek.Model.Problems;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Neighbourhoods;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Exact;

public class ExactSearchTests
{
    private static readonly TinyWeek ThreeTasks = TinyWeek.New
        .With(week => week with { GridMinutes = 30, Goals = [new(GoalId.Cost), new(GoalId.Finish)] })
        .Rules(new() { MinPeople = 2, KeyholderPresent = true })
        .Task("a", 60).Task("b", 90, "a").Task("c", 30, task => task with { Zone = "floor" });

    [Fact]
    public void A_small_week_is_closed_goal_by_goal()
    {
        var (problem, incumbent) = (ThreeTasks.Problem, new Incumbent(ThreeTasks.Problem));
        Assert.Equal(CpSearchStatus.GapClosed, CpSearch.Solve(problem, incumbent, Effort(20)));
        Assert.Equal(CpOptimum.Best(problem), incumbent.Values);
        Assert.Equal(incumbent.Bounds(), incumbent.Values);
    }

    [Fact]
    public void A_week_without_a_plan_is_proven_to_have_none()
    {
        // Nine hours in one go; a night has eight.
        var (problem, incumbent) = (ThreeTasks.Task("d", 540).Problem, new Incumbent(ThreeTasks.Task("d", 540).Problem));
        Assert.Equal(CpSearchStatus.Infeasible, CpSearch.Solve(problem, incumbent, Effort(20)));
        Assert.Null(incumbent.Best);
    }

    [Fact]
    public void Parts_of_a_dear_plan_decided_anew_reach_the_cheapest()
    {
        // Everybody there all night is three times eight hours; two people are needed for the 150 minutes of a and b: 60.00.
        var (problem, incumbent) = (ThreeTasks.Problem, new Incumbent(ThreeTasks.Problem));
        Assert.True(incumbent.Offer(Dear.Schedule), string.Join(' ', Dear.BrokenRules));
        Assert.Equal(28800, incumbent.Values![0]);
        LargeNeighbourhoodSearch.Improve(problem, incumbent, Effort(2));
        Assert.Equal(6000, incumbent.Values[0]);
    }

    [Fact]
    public void The_same_effort_betters_a_plan_in_the_same_way()
    {
        var (one, other) = (new Incumbent(ThreeTasks.Problem), new Incumbent(ThreeTasks.Problem));
        foreach (var incumbent in new[] { one, other })
        {
            incumbent.Offer(Dear.Schedule);
            LargeNeighbourhoodSearch.Improve(ThreeTasks.Problem, incumbent, Effort(0.5));
        }
        Assert.Equal(Written(one), Written(other));
    }

    [Fact]
    public void A_cancel_ends_the_search_long_before_its_time()
    {
        using var stop = new CancellationTokenSource(TimeSpan.FromMilliseconds(500));
        var problem = Problem.Of(WeekGenerator.Make(WeekGenerator.Size.Small, 3));
        var started = Stopwatch.GetTimestamp();
        var limits = new SearchLimits { Time = TimeSpan.FromMinutes(10), Workers = 1 };
        Assert.Equal(CpSearchStatus.Inconclusive, CpSearch.Solve(problem, new Incumbent(problem), new Budget(limits, stop.Token)));
        Assert.InRange(Stopwatch.GetElapsedTime(started), TimeSpan.Zero, TimeSpan.FromMinutes(1));
    }

    private static TinyPlan Dear => ThreeTasks.Plan.Keyholder("mon", "ana")
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00").Shift("mon", "cy", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "23:00", "00:30", "ana")
        .Work("mon", "c", "22:00", "22:30", "bo");

    private static Budget Effort(double effort) => new(new SearchLimits { Effort = effort, Workers = 1 }, CancellationToken.None);

    private static string Written(Incumbent incumbent) => string.Join('\n', incumbent.Best!.Work
        .Select(work => $"{work.Stint} {work.From} {string.Join(',', work.Assignments)}")
        .Concat(incumbent.Best.Shifts.Select(shift => shift.ToString())));
}
