using CsCheck;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests;

/// <summary>What holds for every week, tried on weeks made by chance; a failing one is printed with its seed.</summary>
public class PlannerPropertyTests
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
