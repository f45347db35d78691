using CsCheck;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Generated;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>How early a task can start in any plan, the answer argued beside it.</summary>
public sealed class EarliestOfAllTests
{
    private static readonly SearchLimits Enough = new() { Effort = 10, Workers = 1 };
    private static readonly TinyWeek Week = TinyWeek.New;

    /// <summary>The coat ends 23:00 at the earliest, since the night opens 22:00, and dries until 03:00.</summary>
    [Fact]
    public void What_it_waits_for_is_told_link_by_link_back_to_the_calendar()
    {
        var all = AtAll(Week.Task("coat", 60).Task("canopy", 60, "coat", dry: 240).Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "coat", "22:00", "23:00", "ana").Work("mon", "canopy", "03:00", "04:00", "ana"), "canopy");
        Assert.Equal((Mon("2027-03-09T03:00"), true), (all.NotBefore.LocalDateTime, all.Proven));
        Assert.Equal(["canopy waits for coat, which ends Mon 8 Mar 23:00 at the earliest and dries until Tue 9 Mar 03:00.",
                "The night opens Mon 8 Mar 22:00."],
            all.Because.Select(hold => hold.Sentence));
        Assert.Null(all.Earlier);
    }

    [Fact]
    public void A_kit_is_where_the_path_ends()
    {
        var all = AtAll(Week.Kit("props", "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] })
            .Task("b", 60, "a").Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana")
            .Work("mon", "b", "00:00", "01:00", "ana"), "b");
        Assert.Equal([RuleId.After, RuleId.Kit], all.Because.Select(hold => hold.Rule));
        Assert.Equal(Mon("2027-03-09T00:00"), all.NotBefore.LocalDateTime);
    }

    /// <summary>Bo costs half and comes at 23:00. Any hour before is ana's, for 12.00 instead of 6.00.</summary>
    [Fact]
    public void What_it_costs_to_have_it_earlier_is_the_best_plan_that_has()
    {
        var all = AtAll(Goals(Week.Person("cy", Never)
            .Person("bo", member => member with { RatePerHour = 600, Available = [new("mon", Mon("2027-03-08T23:00"))] }), GoalId.Cost)
                .Task("a", 60).Plan
            .Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "bo"), "a");
        Assert.Equal((Mon("2027-03-08T22:00"), Mon("2027-03-08T22:00"), true),
            (all.NotBefore.LocalDateTime, all.Found.LocalDateTime, all.Proven));
        Assert.Equal(("ana", 600), (all.Earlier!.People.Single().Person, all.Earlier.Goals.Single().Difference));
    }

    /// <summary>
    /// Only ana paints, an hour each: the second wall is done at midnight in every plan, which no path of the calendar shows.
    /// Without the skill, or without either order, c could be earlier.
    /// </summary>
    [Fact]
    public void Where_only_a_solve_shows_it_the_rules_that_cannot_hold_together_are_told()
    {
        var all = AtAll(
            Goals(Week.Person("ana",
                member => member with { Skills = new Dictionary<string, int> { ["hands"] = 2, ["painting"] = 1 } }), GoalId.Finish)
            .Task("a", 60, Painted).Task("b", 60, Painted)
            .Task("c", 60, task => task with { After = [new("a"), new("b")] }).Plan
            .Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "00:00", "01:00").Work("mon", "a", "22:00", "23:00", "ana")
            .Work("mon", "b", "23:00", "00:00", "ana").Work("mon", "c", "00:00", "01:00", "bo"), "c");
        Assert.Equal((Mon("2027-03-09T00:00"), true, false), (all.NotBefore.LocalDateTime, all.Proven, all.MayHoldMore));
        var rules = all.Because.Select(hold => hold.Rule).ToArray();
        Assert.Contains(RuleId.Skill, rules);
        Assert.Contains(RuleId.After, rules);
        Assert.DoesNotContain(RuleId.Ban, rules);
    }

    /// <summary>No plan whatever, made with any goal in mind, starts a stint before the moment that is called proven.</summary>
    [Fact]
    public void No_plan_of_a_week_made_by_chance_starts_a_stint_sooner_than_is_proven() => TinyWeekGenerator.Any.Sample(week =>
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

    private static LocalDateTime Mon(string time) => TinyWeek.Local(time);

    private static TinyWeek Goals(TinyWeek week, params GoalId[] goals) =>
        week.With(one => one with { Goals = [.. goals.Select(goal => new GoalChoice(goal))] });

    private static CrewMember Never(CrewMember member) => member with { Available = [] };

    private static WeekTask Painted(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [new("painting", 1)])] };

    private static EarliestStartExplanation AtAll(TinyPlan plan, string task)
    {
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, task, 1, Enough)!.AtAll!;
    }
}
