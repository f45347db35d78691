using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;

namespace SetWeek.Planning.Tests.Explaining.Reasons;

/// <summary>
/// For each rule, a plan written by hand in which that rule keeps a task from starting earlier while the rest of the plan stays.
/// Only Ana can paint, so nobody can replace her at painting.
/// </summary>
public sealed class LeftShiftTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Person("ana", member => member with
    {
        Skills = new Dictionary<string, int> { ["hands"] = 2, ["painting"] = 1 },
    });

    /// <summary>The rule that forbids all starts before the first night opens.</summary>
    private const RuleId Opens = RuleId.Window;

    [Fact]
    public void The_opening_of_the_first_night_forbids_earlier_starts()
    {
        var here =
            Here(Week.Task("a", 60).Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana"), "a");
        var hold = Assert.Single(here.Holds);
        Assert.Equal((RuleId.Window, "mon", "The night opens Mon 8 Mar 22:00."), (hold.Rule, hold.About.Night, hold.Sentence));
        Assert.Null(here.Open);
    }

    /// <summary>
    /// The coat ends at 23:00 and dries for four hours, which forbids every start before 03:00.
    /// </summary>
    [Fact]
    public void Drying_forbids_earlier_starts()
    {
        var here = Here(Week.Task("coat", 60).Task("canopy", 60, "coat", dry: 240).Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "coat", "22:00", "23:00", "ana").Work("mon", "canopy", "03:00", "04:00", "ana"), "canopy");
        var hold = Assert.Single(here.Holds);
        Assert.Equal((RuleId.Drying, "canopy", "coat"), (hold.Rule, hold.About.Task, hold.By?.Task));
        Assert.Equal("“coat” dries until Tue 9 Mar 03:00.", hold.Sentence);
        Assert.Equal(TinyWeek.Local("2027-03-09T03:00"), hold.Until!.Value.LocalDateTime);
    }

    [Fact]
    public void A_predecessor_forbids_earlier_starts() => AssertForbidden([RuleId.After], Week.Task("a", 60)
        .Task("b", 60, "a").Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "22:00", "23:00", "ana")
        .Work("mon", "b", "23:00", "00:00", "ana"), "b");

    [Fact]
    public void The_stint_before_it_forbids_earlier_starts() =>
        AssertForbidden([RuleId.Whole], Week.Task("a", 60, task => task with { Stints = 2 }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Stint("mon", "a", 1, 0, "22:00", "22:30", "ana")
        .Stint("mon", "a", 2, 0, "22:30", "23:00", "ana"),
        "a", 2);

    [Fact]
    public void A_late_kit_forbids_earlier_starts() => AssertForbidden([RuleId.Kit], Week.Kit("props", "2027-03-08T23:00")
        .Task("a", 60, task => task with { Needs = [new("props")] }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>The task may not run before 23:00, so the ban forbids starts from 22:00 to 22:55.</summary>
    [Fact]
    public void A_ban_forbids_earlier_starts() => AssertForbidden([RuleId.Ban, Opens],
        Week.Ban("mon", "noisy", "2027-03-08T22:00", "2027-03-08T23:00")
        .Task("a", 60, task => task with { Traits = ["noisy"] }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>Only Ana can paint, and she works at a until 23:00.</summary>
    [Fact]
    public void People_at_other_work_forbid_earlier_starts()
    {
        var here = Here(Week.Task("a", 60).Task("b", 60, Painted).Plan.Shift("mon", "ana", "22:00", "06:00")
            .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal([RuleId.OnePlace, Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal(("Ana works on “a” until Mon 8 Mar 23:00.", "ana", "a"),
            (here.Holds[0].Sentence, here.Holds[0].About.Person, here.Holds[0].By?.Task));
    }

    /// <summary>
    /// Each of the three could do b, and each works at something else until 23:00. Each is a reason, because b could start
    /// earlier if that person were free.
    /// </summary>
    [Fact]
    public void Each_qualified_person_at_other_work_is_a_reason()
    {
        var plan = Week.Task("a", 60).Task("c", 60).Task("d", 60).Task("b", 60).Plan;
        foreach (var (person, task) in new[] { ("ana", "a"), ("bo", "c"), ("cy", "d") })
            plan = plan.Shift("mon", person, "22:00", "06:00").Work("mon", task, "22:00", "23:00", person);
        var here = Here(plan.Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal(["ana", "bo", "cy", null], here.Holds.Select(hold => hold.About.Person));
    }

    [Fact]
    public void A_full_zone_forbids_earlier_starts() =>
        AssertForbidden([RuleId.ZoneRoom, Opens], Week.Zone("wall", zone => zone with { MaxPeople = 1 })
        .Task("a", 60).Task("b", 60).Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:00", "00:00", "ana"), "b");

    [Fact]
    public void Equipment_in_use_forbids_earlier_starts() =>
        AssertForbidden([RuleId.Equipment, Opens], Week.Equipment("ladder", 1)
        .Task("a", 60, OnLadder).Task("b", 60, OnLadder).Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:00", "00:00", "ana"), "b");

    /// <summary>Task a ends at 23:00 and closes the wall for half an hour. Before 22:00 no night is open.</summary>
    [Fact]
    public void A_closed_zone_forbids_earlier_starts() => AssertForbidden([RuleId.ZoneClosed, RuleId.ZoneRoom, Opens], Week
        .Zone("wall", zone => zone with { MaxPeople = 1 })
        .Task("a", 60, task => task with { ClosesZoneMinutes = 30 }).Task("b", 60).Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "b", "23:30", "00:30", "ana"), "b");

    /// <summary>Task a follows b in the same night, and a stays on Tuesday.</summary>
    [Fact]
    public void A_same_night_precedence_forbids_earlier_nights() =>
        AssertForbidden([RuleId.SameNight], Week.Task("b", 60).Task("a", 60, "b", sameNight: true).Plan
        .Shift("tue", "ana", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
        .Work("tue", "b", "22:00", "23:00", "ana").Work("tue", "a", "23:00", "00:00", "ana"), "b");

    /// <summary>On Monday the wall would need a clean-down, which the plan does not have.</summary>
    [Fact]
    public void A_missing_clean_down_forbids_earlier_nights() =>
        AssertForbidden([Opens, RuleId.CleanDown, Opens], Week.CleanDown("wall", 30).Task("a", 60).Plan
        .Shift("tue", "ana", "22:00", "06:00").Shift("mon", "ana", "22:00", "06:00")
        .Work("tue", "a", "22:00", "23:00", "ana").CleanDown("tue", "wall", "23:00", "23:30", "ana"), "a");

    [Fact]
    public void All_other_work_forbids_an_earlier_start_of_the_last_task() =>
        AssertForbidden([RuleId.Last], Week.Task("a", 60).Task("z", 60, task => task with { Last = true }).Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "a", "22:00", "23:00", "bo").Work("mon", "z", "23:00", "00:00", "ana"), "z");

    /// <summary>Only Ana can paint, and she comes at 23:00.</summary>
    [Fact]
    public void Availability_forbids_earlier_starts() => AssertForbidden([RuleId.Availability, Opens], Week
        .Person("ana", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
        .Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>
    /// Her day work ends at noon, and eleven hours of rest end at 23:00. A shift from 22:55 would be five minutes too early.
    /// </summary>
    [Fact]
    public void Rest_forbids_earlier_starts() => AssertForbidden([RuleId.Rest, Opens], Week.Rules(new() { MinRestMinutes = 660 })
        .Busy("ana", "2027-03-08T08:00", "2027-03-08T12:00").Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");

    /// <summary>A shift lasts at most four hours. Hers already does, with work at its end.</summary>
    [Fact]
    public void The_maximum_shift_length_forbids_earlier_starts() =>
        AssertForbidden([RuleId.ShiftLength, Opens], Week.Rules(new() { MaxShiftMinutes = 240 })
        .Task("a", 60, Painted).Task("b", 60).Plan
        .Shift("mon", "ana", "23:00", "03:00").Work("mon", "a", "23:00", "00:00", "ana")
        .Work("mon", "b", "02:00", "03:00", "ana"), "a");

    /// <summary>Bo comes at 23:00. Before that Ana would be alone.</summary>
    [Fact]
    public void The_minimum_of_people_forbids_earlier_starts() =>
        AssertForbidden([RuleId.TwoPerson, Opens], Week.Rules(new() { MinPeople = 2 }).Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"),
        "a");

    /// <summary>
    /// Opening takes 15 minutes from 22:00. For work at 22:10 Ana would have to come before the night opens.
    /// </summary>
    [Fact]
    public void The_opening_time_forbids_earlier_starts()
    {
        var here = Here(Week.Rules(new() { KeyholderPresent = true, OpeningMinutes = 15 }).Task("a", 60).Plan
            .Shift("mon", "ana", "22:00", "23:15").Work("mon", "a", "22:15", "23:15", "ana").Keyholder("mon", "ana"), "a");
        Assert.Equal([RuleId.Window, RuleId.OpenClose, Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal("Ana opens up 15 min before the night's first work.", here.Holds[1].Sentence);
    }

    /// <summary>Bo is the keyholder and comes at 23:00. No other shift may start before his.</summary>
    [Fact]
    public void The_keyholders_hours_forbid_earlier_starts() =>
        AssertForbidden([RuleId.Availability, Opens], Week.Rules(new() { KeyholderPresent = true })
        .Person("ana", member => member with { Keyholder = false })
        .Person("bo", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
        .Task("a", 60, Painted).Plan
        .Shift("mon", "ana", "23:00", "00:00").Shift("mon", "bo", "23:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana")
        .Keyholder("mon", "bo"), "a");

    /// <summary>No rule forbids a start at 22:00, and Ana is paid the same then.</summary>
    [Fact]
    public void A_task_that_no_rule_holds_can_start_earlier_at_a_stated_price()
    {
        var here =
            Here(Week.Task("a", 60).Plan.Shift("mon", "ana", "22:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana"), "a");
        Assert.Equal([Opens], here.Holds.Select(hold => hold.Rule));
        Assert.Equal((12, "mon", "ana"), (here.OpenStarts, here.Open!.Night, here.Open.People.Single().Person));
        Assert.Equal(TinyWeek.Local("2027-03-08T22:00"), here.Open.From.LocalDateTime);
        Assert.Equal([(GoalId.Cost, 0L), (GoalId.Finish, -60L)],
            here.Open.Goals.Where(goal => goal.Goal is GoalId.Cost or GoalId.Finish)
                .Select(goal => (goal.Goal, goal.Difference)));
    }

    /// <summary>Ana works at a until 23:00. Bo is on shift and free.</summary>
    [Fact]
    public void A_free_substitute_makes_an_earlier_start_possible()
    {
        var here = Here(Week.Task("a", 60).Task("b", 60).Plan.Shift("mon", "ana", "22:00", "00:00")
            .Shift("mon", "bo", "22:00", "00:00")
            .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "23:00", "00:00", "ana"), "b");
        Assert.Equal(("bo", 12), (here.Open!.People.Single().Person, here.OpenStarts));
    }

    [Fact]
    public void Begun_work_has_that_as_its_only_reason()
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
    public void In_a_replan_now_forbids_earlier_starts()
    {
        var week = Week.Task("a", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "00:00").Work("mon", "a", "23:00", "00:00", "ana");
        var replan = week.Replan(published, "2027-03-08T22:30");
        var here = Here(replan with { Schedule = published.Schedule }, "a");
        Assert.Equal(["Nothing new starts before now, Mon 8 Mar 22:30."], here.Holds.Select(hold => hold.Sentence));
        Assert.Equal(TinyWeek.Local("2027-03-08T22:30"), here.Open!.From.LocalDateTime);
    }

    [Fact]
    public void A_stint_that_is_not_in_the_plan_has_no_explanation() =>
        Assert.Null(Why.Of(Week.Task("a", 60).Problem, Week.Task("a", 60).Plan.AsPlan, "a", 1, new() { Effort = 1 }));

    private static WeekTask Painted(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [new("painting", 1)])] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    private static LeftShiftExplanation Here(TinyPlan plan, string task, int stint = 1)
    {
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, task, stint, new() { Effort = 1 })!.Here;
    }

    private static void AssertForbidden(RuleId[] rules, TinyPlan plan, string task, int stint = 1)
    {
        var here = Here(plan, task, stint);
        Assert.Equal(rules, here.Holds.Select(hold => hold.Rule));
        Assert.Null(here.Open);
    }
}
