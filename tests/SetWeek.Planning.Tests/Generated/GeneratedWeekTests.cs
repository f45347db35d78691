using System.Security.Cryptography;
using CsCheck;
using SetWeek.Bench;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Generated;

/// <summary>What holds for every week, tried on weeks made by chance; a failing one is printed with its seed.</summary>
public class GeneratedWeekTests
{
    private static readonly SearchLimits Enough = new() { Effort = 20, Workers = 1 };

    [Fact]
    public void Every_plan_passes_the_check() => TinyWeekGenerator.Any.Sample(week =>
    {
        var plan = Planner.Plan(week, Enough);
        var problem = Problem.Of(week);
        return plan.Nights.Count == 0
            ? plan.Status is PlanStatus.Infeasible && plan.Conflict.Count > 0
            : Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)).Count == 0;
    }, iter: 40, threads: 1);

    [Fact]
    public void A_longer_night_never_makes_the_best_plan_worse() => TinyWeekGenerator.Any.Sample(week =>
    {
        var longer = week
            with { Nights = [.. week.Nights.Select(night => night with { Closes = night.Closes.PlusMinutes(30) })] };
        return NoWorse(Planner.Plan(longer, Enough), Planner.Plan(week, Enough));
    }, iter: 20, threads: 1);

    [Fact]
    public void An_earlier_kit_never_makes_the_best_plan_worse() => TinyWeekGenerator.Any.Sample(week =>
    {
        var earlier = week with { Kits = [.. week.Kits.Select(kit => kit with { Eta = kit.Eta!.Value.PlusHours(-4) })] };
        return NoWorse(Planner.Plan(earlier, Enough), Planner.Plan(week, Enough));
    }, iter: 20, threads: 1);

    [Fact]
    public void A_relabelled_week_has_the_same_best_plan() => TinyWeekGenerator.Any.Sample(week =>
    {
        var (one, other) = (Planner.Plan(week, Enough), Planner.Plan(Relabelled(week), Enough));
        return one.Status == other.Status && one.Goals.Select(goal => goal.Value)
            .SequenceEqual(other.Goals.Select(goal => goal.Value));
    }, iter: 20, threads: 1);

    /// <summary>
    /// Figures of different days compare only where the weeks are the same to the byte; a change here re-bases every one.
    /// </summary>
    [Theory]
    [InlineData("generated.small-4", "e7364d5545118314")]
    [InlineData("generated.small-6", "c5a0f2a6916a46c6")]
    [InlineData("generated.small-15", "6b7eab93a73616a0")]
    [InlineData("generated.medium-11", "96862914ae4b1905")]
    [InlineData("generated.medium-4", "a593b7fa057e58b1")]
    [InlineData("generated.medium-8", "4d6aa997969ffa50")]
    [InlineData("generated.large-12", "5113c65f05369a85")]
    [InlineData("generated.large-8", "a5e7b2608b13400e")]
    [InlineData("generated.large-9", "9972f15e607a5c53")]
    public void The_fixed_weeks_are_valid_the_same_for_ever_and_load_the_crew_as_they_say(string id, string digest)
    {
        var week = WeekGenerator.Fixed.Select(one => WeekGenerator.Make(one.Size, one.Seed)).Single(week => week.Id == id);
        var file = WeekFile.Write(week);
        Assert.True(WeekFile.Read(file).IsT0);
        Assert.InRange(WeekGenerator.LoadOf(week), 0.70, 0.85);
        Assert.Equal(digest, Convert.ToHexStringLower(SHA256.HashData(file))[..16]);
    }

    private static bool NoWorse(Plan loose, Plan tight) =>
        tight.Status == PlanStatus.Infeasible
        || (loose.Status == PlanStatus.Optimal && tight.Status == PlanStatus.Optimal
            && loose.Goals.Select(goal => goal.Value).ToArray().AsSpan()
            .SequenceCompareTo(tight.Goals.Select(goal => goal.Value).ToArray()) <= 0);

    /// <summary>Other ids, and another order of everything whose order means nothing to a goal.</summary>
    private static Week Relabelled(Week week) => week with
    {
        Crew = [.. week.Crew.Reverse().Select(member => member with { Id = $"x{member.Id}" })],
        Displays = [.. week.Displays.Reverse()],
        Tasks = [.. week.Tasks.Reverse().Select(task => task with
        {
            Id = $"x{task.Id}", After = [.. task.After.Select(precedence => precedence with { Task = $"x{precedence.Task}" })],
        })],
    };
}
