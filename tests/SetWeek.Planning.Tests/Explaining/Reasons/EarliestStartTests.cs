using CsCheck;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Explaining.Reasons;

/// <summary>The earliest start of a task over all plans, derived by hand at each test.</summary>
public sealed class EarliestStartTests
{
    private static readonly SearchLimits Enough = new() { Effort = 10, Workers = 1 };
    private static readonly TinyWeek Week = TinyWeek.New;

    /// <summary>The night opens at 22:00, so the coat ends at 23:00 at the earliest and dries until 03:00.</summary>
    [Fact]
    public void The_longest_path_is_listed_back_to_the_opening_of_a_night()
    {
        var all = EarliestStart(Week.Task("coat", 60).Task("canopy", 60, "coat", dry: 240).Plan
            .Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "coat", "22:00", "23:00", "ana").Work("mon", "canopy", "03:00", "04:00", "ana"), "canopy");
        Assert.Equal((Local("2027-03-09T03:00"), true), (all.NotBefore.LocalDateTime, all.Proven));
        Assert.Equal(["“canopy” waits for “coat”, which ends Mon 8 Mar 23:00 at the earliest and then has to dry until "
            + "Tue 9 Mar 03:00.",
                "The night opens Mon 8 Mar 22:00."],
            all.Because.Select(hold => hold.Sentence));
        Assert.Null(all.Earlier);
    }

    [Fact]
    public void The_longest_path_ends_at_a_kit()
    {
        var all = EarliestStart(Week.Kit("props", "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] })
            .Task("b", 60, "a").Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana")
            .Work("mon", "b", "00:00", "01:00", "ana"), "b");
        Assert.Equal([RuleId.After, RuleId.Kit], all.Because.Select(hold => hold.Rule));
        Assert.Equal(Local("2027-03-09T00:00"), all.NotBefore.LocalDateTime);
    }

    /// <summary>Bo costs 6.00 an hour and comes at 23:00. Before that only Ana can do the task, at 12.00 an hour.</summary>
    [Fact]
    public void The_price_of_an_earlier_start_is_that_of_the_best_such_plan()
    {
        var all = EarliestStart(WithGoals(Week.Person("cy", NeverAvailable)
            .Person("bo", member => member with { RatePerHour = 600, Available = [new("mon", Local("2027-03-08T23:00"))] }),
                GoalId.Cost)
                .Task("a", 60).Plan
            .Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "bo"), "a");
        Assert.Equal((Local("2027-03-08T22:00"), Local("2027-03-08T22:00"), true),
            (all.NotBefore.LocalDateTime, all.Found.LocalDateTime, all.Proven));
        Assert.Equal(("ana", 600), (all.Earlier!.People.Single().Person, all.Earlier.Goals.Single().Difference));
    }

    /// <summary>
    /// Only Ana can paint, and she paints a and b for an hour each. So both are done at midnight at the earliest, which the
    /// longest path does not show. Without the skill, or without one of the precedences, c could start earlier.
    /// </summary>
    [Fact]
    public void A_bound_found_by_the_solver_is_explained_by_its_conflict()
    {
        var all = EarliestStart(
            WithGoals(Week.Person("ana",
                member => member with { Skills = new Dictionary<string, int> { ["hands"] = 2, ["painting"] = 1 } }),
                    GoalId.Finish)
            .Task("a", 60, Painted).Task("b", 60, Painted)
            .Task("c", 60, task => task with { After = [new("a"), new("b")] }).Plan
            .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "00:00", "01:00").Work("mon", "a", "22:00", "23:00", "ana")
            .Work("mon", "b", "23:00", "00:00", "ana").Work("mon", "c", "00:00", "01:00", "bo"), "c");
        Assert.Equal((Local("2027-03-09T00:00"), true, false), (all.NotBefore.LocalDateTime, all.Proven, all.MayHoldMore));
        var rules = all.Because.Select(hold => hold.Rule).ToArray();
        Assert.Contains(RuleId.Skill, rules);
        Assert.Contains(RuleId.After, rules);
        Assert.DoesNotContain(RuleId.Ban, rules);
    }

    /// <summary>No plan, whatever its goals, starts a stint before the proven earliest start.</summary>
    [Fact]
    public void No_plan_of_a_random_week_starts_a_stint_before_the_proven_bound() => TinyWeekGenerator.Any.Sample(week =>
    {
        var problem = Problem.Of(week);
        Plan[] plans = [.. new[] { week.Goals, [new GoalChoice(GoalId.Finish)], [new GoalChoice(GoalId.Cost)] }
            .Select(goals => Planner.Plan(week with { Goals = goals }, new() { Effort = 0.5, Workers = 1 }))
            .Where(plan => plan.Nights.Count > 0)];
        if (plans.Length == 0) return;
        foreach (var work in plans[0].Nights.SelectMany(night => night.Work).Where(work => work.Task is not null).Take(3))
        {
            var all = Why.Of(problem, plans[0], work.Task!, work.Stint!.Value, new() { Effort = 1, Workers = 1 })!.AtAll!;
            var (bound, found) = (all.NotBefore.ToInstant(), all.Found.ToInstant());
            Assert.True(bound <= found && found <= work.From.ToInstant());
            Assert.True(all.Earlier is null
                || (all.Earlier.From.ToInstant() >= bound && all.Earlier.From.ToInstant() < work.From.ToInstant()));
            foreach (var other in plans.SelectMany(plan => plan.Nights).SelectMany(night => night.Work))
                if (other.Task == work.Task && other.Stint == work.Stint) Assert.True(other.From.ToInstant() >= bound);
        }
    }, iter: 8, threads: 1);

    private static LocalDateTime Local(string time) => TinyWeek.Local(time);

    private static TinyWeek WithGoals(TinyWeek week, params GoalId[] goals) =>
        week.With(changed => changed with { Goals = [.. goals.Select(goal => new GoalChoice(goal))] });

    private static CrewMember NeverAvailable(CrewMember member) => member with { Available = [] };

    private static WeekTask Painted(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [new("painting", 1)])] };

    private static EarliestStartExplanation EarliestStart(TinyPlan plan, string task)
    {
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, task, 1, Enough)!.AtAll!;
    }
}
