using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>Re-plans of generated weeks with a late kit, before the first night and during later nights.</summary>
public class ReplanningTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.3, Workers = 1 };

    [Fact]
    public void An_unchanged_week_keeps_its_published_shifts()
    {
        var week = PlannerTests.Generated("medium", 4);
        var published = Planner.Plan(week, Short);
        var plan = Planner.Plan(week, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Equal(0, plan.Goals.Single(goal => goal.Goal == GoalId.Changes).Value);
    }

    [Theory]
    [InlineData("small", 3, 0, -600), InlineData("small", 3, 1, 100), InlineData("small", 6, 2, 37),
        InlineData("small", 6, 3, 130)]
    [InlineData("medium", 4, 1, 100), InlineData("medium", 4, 3, 61), InlineData("large", 1, 2, 37)]
    public void A_replan_after_a_late_kit_breaks_no_rule(string size, int seed, int night, int minutes)
    {
        var week = PlannerTests.Generated(size, seed);
        var published = Planner.Plan(week, Short);
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id == "kit-signs"
                ? kit with { Eta = week.Nights[night + 1].Opens.PlusHours(-4) } : kit)],
        };
        var now = week.Nights[night].Opens.PlusMinutes(minutes);
        var replan = new Replan(published, now, ReportsAsPlanned(published, now));
        PlannerTests.AssertFeasible(late, Planner.Plan(late, Short, replan), replan);
    }

    /// <summary>
    /// In the week of Harbour Street the props come two nights late, which leaves three nights for the work with them. The
    /// published shifts bar the people who can do it, by rest and the maximum of nights. Repairs that keep those shifts had found
    /// no plan within this effort (published with seeds 0 and 4, five runs each). A plan made without regard to the published
    /// shifts is found after 0.02 to 0.05 units.
    /// </summary>
    [Theory, InlineData(0), InlineData(3), InlineData(4)]
    public void Musts_that_published_shifts_bar_are_planned_with_little_effort(int seed)
    {
        var week = WeekFile.Read(ExampleFiles.Read("harbour-street.week.json")).AsT0;
        var published = Planner.Plan(week, Short with { Seed = seed });
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id == "props" ? kit with { Eta = kit.Eta!.Value.PlusDays(2) } : kit)],
        };
        var replan = new Replan(published, week.Nights[0].Opens.PlusDays(-3), []);
        PlannerTests.AssertFeasible(late, Planner.Plan(late, Short with { Seed = seed }, replan), replan);
    }

    /// <summary>
    /// Somebody is absent, and the first plan ignores the published one: it has about 70 changes. Measured: the search ends with
    /// 11 to 17 changes at this effort, by the seed, and with 13 to 21 without the exact model of the disrupted nights.
    /// </summary>
    [Theory, InlineData(0), InlineData(1), InlineData(2)]
    public void A_plan_made_without_the_published_one_is_brought_close_to_it(int seed)
    {
        var week = PlannerTests.Generated("medium", 4) with
        {
            Goals = [new(GoalId.LeftOut), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish)],
            ReplanGoals = [new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Reserve), new(GoalId.Cost), new(GoalId.Finish)],
        };
        var published = Planner.Plan(week, Short);
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        var absent = third.Shifts.OrderByDescending(shift => shift.To.ToInstant() - shift.From.ToInstant())
            .ThenBy(shift => shift.Person, StringComparer.Ordinal).ElementAt(1).Person;
        var now = week.Nights[1].Opens.PlusHours(-8);
        var without = new Absence(absent, third.Night).Apply(week);
        var replan = new Replan(published, now, ReportsAsPlanned(published, now));
        var plan = Planner.Plan(without, Short with { Effort = 1, Seed = seed }, replan);
        PlannerTests.AssertFeasible(without, plan, replan);
        Assert.InRange(plan.Goals.Single(goal => goal.Goal == GoalId.Changes).Value, 1, 19);
    }

    /// <summary>
    /// Bo is absent from the only night. His work has to go to somebody else or to another time (1), and all other work can stay.
    /// </summary>
    [Fact]
    public void An_absence_leaves_the_rest_of_the_night_alone_and_that_is_proven()
    {
        var tiny = TinyWeek.New.With(week => week with
        {
            Nights = [week.Nights[0]], Crew = [.. week.Crew.Select(member => member with { Available = [new("mon")] })],
        }).Task("hang", 60).Task("dress", 60).Task("sign", 60).Task("price", 60);
        var published = tiny.Plan.Shift("mon", "ana", "22:00", "00:00").Shift("mon", "bo", "22:00", "23:00")
            .Shift("mon", "cy", "22:00", "23:00").Work("mon", "hang", "22:00", "23:00", "ana")
            .Work("mon", "price", "23:00", "00:00", "ana").Work("mon", "dress", "22:00", "23:00", "bo")
            .Work("mon", "sign", "22:00", "23:00", "cy");
        var replan = new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T12:00"), []);
        var plan = Planner.Plan(new Absence("bo", "mon").Apply(tiny.Week), Short, replan);
        Assert.Equal(new GoalValue(GoalId.Shuffled, 1, 1), plan.Goals.Single(goal => goal.Goal == GoalId.Shuffled));
    }

    /// <summary>Nights are shortened to one hour, so the published start lies beyond their slots.</summary>
    [Fact]
    public void Work_published_after_the_end_of_a_shortened_night_is_planned_earlier()
    {
        var tiny = TinyWeek.New.Task("hang", 30);
        var published = tiny.Plan.Shift("mon", "ana", "22:00", "05:00").Work("mon", "hang", "04:00", "04:30", "ana");
        var week = tiny.Week with { Nights = [.. tiny.Week.Nights.Select(night =>
            night with { Closes = night.Opens.PlusHours(1) })] };
        var replan = new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T12:00"), []);
        PlannerTests.AssertFeasible(week, Planner.Plan(week, Short, replan), replan);
    }

    /// <summary>Reports that all work until now happened as planned.</summary>
    internal static ProgressReport[] ReportsAsPlanned(Plan plan, NodaTime.LocalDateTime now) =>
    [
        .. from night in plan.Nights
           from work in night.Work
           where work.From.LocalDateTime < now
           let done = work.To.LocalDateTime <= now
           select new ProgressReport
           {
               Task = work.Task, Stint = work.Stint ?? 1, Night = work.Task is null
                   ? night.Night : null, CleanDown = work.CleanDown,
               State = done ? WorkState.Done : WorkState.Running, From = work.From, To = done ? work.To : null,
           },
    ];
}
