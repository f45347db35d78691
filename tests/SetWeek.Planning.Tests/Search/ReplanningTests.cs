using SetWeek.Model.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Files;

namespace SetWeek.Planning.Tests.Search;

/// <summary>Generated weeks whose signs come late, told before the first night and in the middle of later ones.</summary>
public class ReplanningTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.3, Workers = 1 };

    [Fact]
    public void A_week_that_nothing_has_happened_to_keeps_its_published_shifts()
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
    public void A_late_kit_moves_what_it_must_and_keeps_what_has_begun(string size, int seed, int night, int minutes)
    {
        var week = PlannerTests.Generated(size, seed);
        var published = Planner.Plan(week, Short);
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id == "kit-signs"
                ? kit with { Eta = week.Nights[night + 1].Opens.PlusHours(-4) } : kit)],
        };
        var now = week.Nights[night].Opens.PlusMinutes(minutes);
        var replan = new Replan(published, now, Worked(published, now));
        PlannerTests.Kept(late, Planner.Plan(late, Short, replan), replan);
    }

    /// <summary>
    /// The week of the examples; its props come two nights late, and what is hung, dressed and posed with them has three nights
    /// left. The published shifts keep those who can do it from there (nights in a row, hours of rest): repairs that hold on to
    /// them had found no plan when this effort was spent (published with seeds 0 and 4, five tries each). One made as if no
    /// shift had been published is there after 0.02 to 0.05 units.
    /// </summary>
    [Theory, InlineData(0), InlineData(3), InlineData(4)]
    public void Musts_that_published_shifts_bar_are_placed_soon_all_the_same(int seed)
    {
        var week = WeekFile.Read(ExampleFiles.Read("harbour-street.week.json")).AsT0;
        var published = Planner.Plan(week, Short with { Seed = seed });
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit.Id == "props" ? kit with { Eta = kit.Eta!.Value.PlusDays(2) } : kit)],
        };
        var replan = new Replan(published, week.Nights[0].Opens.PlusDays(-3), []);
        PlannerTests.Kept(late, Planner.Plan(late, Short with { Seed = seed }, replan), replan);
    }

    /// <summary>
    /// Somebody cannot come, and the first plan is one made as if none had been published. Measured: 13 and 14 changes; repairs
    /// begun over and over from what is kept of the published plan left 18 and 19 at this effort.
    /// </summary>
    [Theory, InlineData(0), InlineData(1), InlineData(2)]
    public void A_plan_made_afresh_is_soon_led_back_to_what_was_published(int seed)
    {
        var week = PlannerTests.Generated("medium", 4);
        var published = Planner.Plan(week, Short);
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        var absent = third.Shifts.OrderByDescending(shift => shift.To.ToInstant() - shift.From.ToInstant())
            .ThenBy(shift => shift.Person, StringComparer.Ordinal).ElementAt(1).Person;
        var now = week.Nights[1].Opens.PlusHours(-8);
        var without = new Absence(absent, third.Night).Apply(week);
        var replan = new Replan(published, now, Worked(published, now));
        var plan = Planner.Plan(without, Short with { Effort = 1, Seed = seed }, replan);
        PlannerTests.Kept(without, plan, replan);
        Assert.InRange(plan.Goals.Single(goal => goal.Goal == GoalId.Changes).Value, 1, 16);
    }

    /// <summary>Slots lie in words of 64: the published start has none in a night of an hour.</summary>
    [Fact]
    public void Work_published_after_the_end_of_nights_cut_short_is_planned_earlier()
    {
        var tiny = TinyWeek.New.Task("hang", 30);
        var published = tiny.Plan.Shift("mon", "ana", "22:00", "05:00").Work("mon", "hang", "04:00", "04:30", "ana");
        var week = tiny.Week with { Nights = [.. tiny.Week.Nights.Select(night => night with { Closes = night.Opens.PlusHours(1) })] };
        var replan = new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T12:00"), []);
        PlannerTests.Kept(week, Planner.Plan(week, Short, replan), replan);
    }

    /// <summary>Everything has gone as planned until now.</summary>
    private static ProgressReport[] Worked(Plan plan, NodaTime.LocalDateTime now) =>
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
