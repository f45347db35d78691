using CsCheck;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests;

/// <summary>Properties of plans, tested on random weeks. CsCheck prints the seed of a failing week.</summary>
public class PlannerPropertyTests
{
    private static readonly SearchLimits Enough = new() { Effort = 20, Workers = 1 };

    [Fact]
    public void Every_plan_passes_the_checker() => TinyWeekGenerator.Any.Sample(week =>
    {
        var plan = Planner.Plan(week, Enough);
        var problem = Problem.Of(week);
        return plan.Nights.Count == 0
            ? plan.Status is PlanStatus.Infeasible && plan.Conflict.Count > 0
            : Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)).Count == 0;
    }, iter: 40, threads: 1);

    [Fact]
    public void A_longer_night_never_makes_the_optimum_worse() => TinyWeekGenerator.Any.Sample(week =>
    {
        var longer = week
            with { Nights = [.. week.Nights.Select(night => night with { Closes = night.Closes.PlusMinutes(30) })] };
        return IsNoWorse(Planner.Plan(longer, Enough), Planner.Plan(week, Enough));
    }, iter: 20, threads: 1);

    [Fact]
    public void An_earlier_kit_never_makes_the_optimum_worse() => TinyWeekGenerator.Any.Sample(week =>
    {
        var earlier = week with { Kits = [.. week.Kits.Select(kit => kit with { Eta = kit.Eta!.Value.PlusHours(-4) })] };
        return IsNoWorse(Planner.Plan(earlier, Enough), Planner.Plan(week, Enough));
    }, iter: 20, threads: 1);

    [Fact]
    public void A_relabelled_week_has_the_same_optimum() => TinyWeekGenerator.Any.Sample(week =>
    {
        var (plan, relabelled) = (Planner.Plan(week, Enough), Planner.Plan(Relabelled(week), Enough));
        return plan.Status == relabelled.Status && plan.Goals.Select(goal => goal.Value)
            .SequenceEqual(relabelled.Goals.Select(goal => goal.Value));
    }, iter: 20, threads: 1);

    private static bool IsNoWorse(Plan relaxed, Plan original) =>
        original.Status == PlanStatus.Infeasible
        || (relaxed.Status == PlanStatus.Optimal && original.Status == PlanStatus.Optimal
            && relaxed.Goals.Select(goal => goal.Value).ToArray().AsSpan()
            .SequenceCompareTo(original.Goals.Select(goal => goal.Value).ToArray()) <= 0);

    /// <summary>The week with other ids, and with its lists in reverse order where the order has no effect on a goal.</summary>
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
