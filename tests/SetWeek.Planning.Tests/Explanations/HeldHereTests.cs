using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>
/// A plan written by hand in which one rule holds a task where it is, for each rule that can; the argument stands beside it.
/// Only ana can paint, so that nobody can stand in for her.
/// </summary>
public sealed class HeldHereTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Person("ana", member => member with
    {
        Skills = new Dictionary<string, int> { ["hands"] = 2, ["painting"] = 1 },
    });

    /// <summary>Nothing starts before the first night opens, whatever else holds later starts.</summary>
    private const RuleId Opens = RuleId.Window;

    [Fact]
    public void At_the_opening_of_the_first_night_only_the_night_holds_it()
    {
        var here =
            Here(Week.Task("a", 60).Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana"), "a");
        var hold = Assert.Single(here.Holds);
        Assert.Equal((RuleId.Window, "mon", "The night opens Mon 8 Mar 22:00."), (hold.Rule, hold.About.Night, hold.Sentence));
        Assert.Null(here.Open);
    }

    /// <summary>
    /// The coat ends 23:00 and dries four hours: that bars everything before 03:00, the nights before included.
    /// </summary>
    [Fact]
    public void Paint_that_dries_holds_it()
    {
        var here = Here(Week.Task("coat", 60).Task("canopy", 60, "coat", dry: 240).Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "coat", "22:00", "23:00", "ana").Work("mon", "canopy", "03:00", "04:00", "ana"), "canopy");
        var hold = Assert.Single(here.Holds);
        Assert.Equal((RuleId.Drying, "canopy", "coat"), (hold.Rule, hold.About.Task, hold.By?.Task));
        Assert.Equal("coat dries until Tue 9 Mar 03:00.", hold.Sentence);
        Assert.Equal(TinyWeek.Local("2027-03-09T03:00"), hold.Until!.Value.LocalDateTime);
    }

    [Fact]
    public void What_comes_before_it_holds_it() => Held([RuleId.After], Week.Task("a", 60).Task("b", 60, "a").Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "22:00", "23:00", "ana")
        .Work("mon", "b", "23:00", "00:00", "ana"), "b");

    [Fact]
    public void The_part_before_it_holds_it() => Held([RuleId.Whole], Week.Task("a", 60, task => task with { Stints = 2 }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Stint("mon", "a", 1, 0, "22:00", "22:30", "ana")
        .Stint("mon", "a", 2, 0, "22:30", "23:00", "ana"),
        "a", 2);

    [Fact]
    public void A_kit_that_is_not_in_holds_it() => Held([RuleId.Kit], Week.Kit("props", "2027-03-08T23:00")
        .Task("a", 60, task => task with { Needs = [new("props")] }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>Of an hour, it may be under way at no moment before 23:00, so that 22:00 is barred and so is 22:55.</summary>
    [Fact]
    public void A_ban_holds_it() => Held([RuleId.Ban, Opens], Week.Ban("mon", "noisy", "2027-03-08T22:00", "2027-03-08T23:00")
        .Task("a", 60, task => task with { Traits = ["noisy"] }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>Nobody else paints: ana is at a until 23:00.</summary>
    [Fact]
    public void Its_people_at_other_work_hold_it()
    {
        var here = Here(Week.Task("a", 60).Task("b", 60, Painted).Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal([RuleId.OnePlace, Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal(("Ana is at a until Mon 8 Mar 23:00.", "ana", "a"),
            (here.Holds[0].Sentence, here.Holds[0].About.Person, here.Holds[0].By?.Task));
    }

    /// <summary>
    /// Anybody could do b; each of the three is at something until 23:00, and each is a reason: with one of them free it
    /// could start.
    /// </summary>
    [Fact]
    public void Where_everybody_could_do_it_each_of_them_holds_it()
    {
        var plan = Week.Task("a", 60).Task("c", 60).Task("d", 60).Task("b", 60).Plan;
        foreach (var (person, task) in new[] { ("ana", "a"), ("bo", "c"), ("cy", "d") })
            plan = plan.Shift("mon", person, "22:00", "06:00").Work("mon", task, "22:00", "23:00", person);
        var here = Here(plan.Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal(["ana", "bo", "cy", null], here.Holds.Select(hold => hold.About.Person));
    }

    [Fact]
    public void A_zone_that_is_full_holds_it() =>
        Held([RuleId.ZoneRoom, Opens], Week.Zone("wall", zone => zone with { MaxPeople = 1 })
        .Task("a", 60).Task("b", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:00", "00:00", "ana"), "b");

    [Fact]
    public void Equipment_in_use_holds_it() => Held([RuleId.Equipment, Opens], Week.Equipment("ladder", 1)
        .Task("a", 60, OnLadder).Task("b", 60, OnLadder).Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:00", "00:00", "ana"), "b");

    /// <summary>a ends 23:00 and closes the wall for half an hour; before 22:00 there is no night.</summary>
    [Fact]
    public void A_zone_that_is_closed_holds_it() => Held([RuleId.ZoneClosed, RuleId.ZoneRoom, Opens], Week
        .Zone("wall", zone => zone with { MaxPeople = 1 })
        .Task("a", 60, task => task with { ClosesZoneMinutes = 30 }).Task("b", 60).Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:30", "00:30", "ana"), "b");

    /// <summary>a is on Tuesday; b must be secured in the same night, and starts it.</summary>
    [Fact]
    public void The_night_of_what_is_half_secured_holds_it() =>
        Held([RuleId.SameNight], Week.Task("b", 60).Task("a", 60, "b", sameNight: true).Plan
        .Shift("tue", "ana", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
        .Work("tue", "b", "22:00", "23:00", "ana").Work("tue", "a", "23:00", "00:00", "ana"), "b");

    /// <summary>Monday would want a clean-down of the wall, which nobody has planned.</summary>
    [Fact]
    public void A_clean_down_that_an_earlier_night_does_not_have_holds_it() =>
        Held([Opens, RuleId.CleanDown, Opens], Week.CleanDown("wall", 30).Task("a", 60).Plan
        .Shift("tue", "ana", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
        .Work("tue", "a", "22:00", "23:00", "ana").CleanDown("tue", "wall", "23:00", "23:30", "ana"), "a");

    [Fact]
    public void Everything_else_holds_what_comes_last() =>
        Held([RuleId.Last], Week.Task("a", 60).Task("z", 60, task => task with { Last = true }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "z", "23:00", "00:00", "ana"), "z");

    /// <summary>Only ana paints, and she comes at 23:00.</summary>
    [Fact]
    public void The_hours_in_which_somebody_can_come_hold_it() => Held([RuleId.Availability, Opens], Week
        .Person("ana", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
        .Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>
    /// Her day ends at noon; eleven hours later it is 23:00. A shift from 22:55 would leave her five minutes short.
    /// </summary>
    [Fact]
    public void The_rest_that_somebody_must_have_holds_it() => Held([RuleId.Rest, Opens], Week.Rules(new() { MinRestMinutes = 660 })
        .Busy("ana", "2027-03-08T08:00", "2027-03-08T12:00").Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>Four hours are the most; her shift is that long already, with work at its end.</summary>
    [Fact]
    public void The_longest_shift_holds_it() => Held([RuleId.ShiftLength, Opens], Week.Rules(new() { MaxShiftMinutes = 240 })
        .Task("a", 60, Painted).Task("b", 60).Plan
        .Shift("mon", "ana", "23:00", "03:00").Work("mon", "a", "23:00", "00:00", "ana")
        .Work("mon", "b", "02:00", "03:00", "ana"), "a");

    /// <summary>Bo is there from 23:00; before, ana would be alone.</summary>
    [Fact]
    public void Being_alone_in_the_store_holds_it() =>
        Held([RuleId.TwoPerson, Opens], Week.Rules(new() { MinPeople = 2 }).Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"),
        "a");

    /// <summary>
    /// Opening up takes a quarter of an hour from 22:00: for work at 22:10 ana would have to come before the night opens.
    /// </summary>
    [Fact]
    public void Opening_up_holds_it()
    {
        var here = Here(Week.Rules(new() { KeyholderPresent = true, OpeningMinutes = 15 }).Task("a", 60).Plan
            .Shift("mon", "ana", "22:00", "23:15").Work("mon", "a", "22:15", "23:15", "ana").Keyholder("mon", "ana"), "a");
        Assert.Equal([RuleId.Window, RuleId.OpenClose, Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal("Ana opens up 15 min before the night's first work.", here.Holds[1].Sentence);
    }

    /// <summary>Bo holds the key and comes at 23:00; cy's shift cannot reach over his.</summary>
    [Fact]
    public void The_keyholders_hours_hold_it() => Held([RuleId.Availability, Opens], Week.Rules(new() { KeyholderPresent = true })
        .Person("ana", member => member with { Keyholder = false })
        .Person("bo", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
        .Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana")
        .Keyholder("mon", "bo"), "a");

    /// <summary>Nothing holds it after 22:00, and ana is paid for the same hour there.</summary>
    [Fact]
    public void What_nothing_holds_could_start_earlier_and_it_is_said_what_for()
    {
        var here =
            Here(Week.Task("a", 60).Plan.Shift("mon", "ana", "22:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");
        Assert.Equal([Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal((12, "mon", "ana"), (here.OpenStarts, here.Open!.Night, here.Open.People.Single().Person));
        Assert.Equal(TinyWeek.Local("2027-03-08T22:00"), here.Open.From.LocalDateTime);
        Assert.Equal([(GoalId.Cost, 0L), (GoalId.Finish, -60L)],
            here.Open.Goals.Where(goal => goal.Goal is GoalId.Cost or GoalId.Finish).Select(goal => (goal.Goal, goal.Difference)));
    }

    /// <summary>Ana is busy until 23:00; bo is there and is not.</summary>
    [Fact]
    public void Somebody_else_who_is_free_counts_as_nothing_that_holds_it()
    {
        var here = Here(Week.Task("a", 60).Task("b", 60).Plan.Shift("mon", "ana", "22:00", "00:00")
            .Shift("mon", "bo", "22:00", "00:00")
            .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal(("bo", 12), (here.Open!.People.Single().Person, here.OpenStarts));
    }

    [Fact]
    public void What_has_begun_is_held_by_that_alone()
    {
        var week = Week.Task("a", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "00:00").Work("mon", "a", "22:00", "23:00", "ana");
        var replan = week.Replan(published, "2027-03-08T22:30", published.Report("mon", "a", WorkState.Running, from: "22:04"));
        var begun = replan with { Schedule = replan.Problem.Facts!.PublishedWithActuals };
        var why = Why.Of(begun.Problem, begun.AsPlan, "a", 1, new() { Effort = 1 })!;
        Assert.Equal(["It has begun at Mon 8 Mar 22:04."], why.Here.Holds.Select(hold => hold.Sentence));
        Assert.Null(why.AtAll);
        Assert.Empty(why.People);
    }

    [Fact]
    public void In_a_re_plan_nothing_starts_before_now()
    {
        var week = Week.Task("a", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana");
        var replan = week.Replan(published, "2027-03-08T22:30");
        var here = Here(replan with { Schedule = published.Schedule }, "a");
        Assert.Equal(["Nothing new starts before now, Mon 8 Mar 22:30."], here.Holds.Select(hold => hold.Sentence));
        Assert.Equal(TinyWeek.Local("2027-03-08T22:30"), here.Open!.From.LocalDateTime);
    }

    [Fact]
    public void What_the_plan_does_not_have_has_no_reason() =>
        Assert.Null(Why.Of(Week.Task("a", 60).Problem, Week.Task("a", 60).Plan.AsPlan, "a", 1, new() { Effort = 1 }));

    private static WeekTask Painted(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [new("painting", 1)])] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    private static LeftShiftExplanation Here(TinyPlan plan, string task, int stint = 1)
    {
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, task, stint, new() { Effort = 1 })!.Here;
    }

    private static void Held(RuleId[] rules, TinyPlan plan, string task, int stint = 1)
    {
        var here = Here(plan, task, stint);
        Assert.Equal(rules, here.Holds.Select(hold => hold.Rule));
        Assert.Null(here.Open);
    }
}
