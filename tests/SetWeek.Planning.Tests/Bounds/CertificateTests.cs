using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;
using static SetWeek.Planning.Tests.Bounds.CertificateAssert;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// What the work asks for: each requirement makes one tiny week impossible and is named for it; one minute or one piece more
/// and the week is not.
/// </summary>
public sealed class CertificateTests
{
    [Fact]
    public void A_kit_that_comes_too_late_for_its_work_is_named()
    {
        // The night ends 120 minutes after Evening(0); the work takes 60.
        Week Arriving(int minutes) =>
            Week(1, Task("fill", 60) with { Needs = [new("props")] }) with { Kits =
                [new("props", "Props", Evening(0, minutes))] };
        Infeasible(Arriving(61), RuleId.Kit, about => about.Kit == "props" && about.Task == "fill");
        Feasible(Arriving(60));
    }

    [Fact]
    public void A_kit_that_nobody_knows_of_is_named()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] });
        Infeasible(week with { Kits = [new("props", "Props", null)] }, RuleId.Kit, about => about.Kit == "props");
        Feasible(week with { Kits = [new("props", "Props", Evening(0))] });
    }

    /// <summary>The wall that comes before has no night either, since nothing may follow it; but it waits for no kit.</summary>
    [Fact]
    public void The_work_that_waits_for_the_kit_is_named_and_not_what_comes_before_it() =>
        Infeasible(Week(1, Task("wall", 60), Task("forms", 60) with { After = [new("wall")], Needs = [new("props")] })
            with { Kits = [new("props", "Props", null)] }, RuleId.Kit, about => about.Task == "forms");

    [Fact]
    public void A_kit_counted_short_bars_the_work_until_somebody_settles_it()
    {
        Week Counted(int received, bool settled = false) =>
            Week(1, Task("fill", 60) with { Needs = [new("props") { Item = "prop", Count = 2 }] }) with
        {
            Kits = [new("props", "Props", Evening(0)) { Lines = [new("prop", 2) { Received = received, Settled = settled }] }],
        };
        Infeasible(Counted(1), RuleId.Kit, about => about.Kit == "props");
        Feasible(Counted(2));
        Feasible(Counted(1, settled: true));
    }

    [Fact]
    public void Drying_that_outlasts_the_last_night_is_named()
    {
        // First coat 22:00 to 23:00, second from 24 h 60 min later at the latest: 23:00 to 24:00 of the next night.
        Week Drying(int minutes) =>
            Week(2, Task("first", 60), Task("second", 60) with { After = [new("first") { DryMinutes = minutes }] });
        Infeasible(Drying(24 * 60 + 1), RuleId.Drying, about => about.Task == "first" || about.Task == "second");
        Feasible(Drying(24 * 60));
    }

    [Fact]
    public void A_due_before_the_work_can_end_is_named()
    {
        Week DueIn(string night) => Week(2, Task("first", 90), Task("second", 90, "first") with { Due = night });
        Infeasible(DueIn("n1"), RuleId.Due, about => about.Task == "second");
        Feasible(DueIn("n2"));
    }

    [Fact]
    public void A_launch_before_the_work_can_end_is_named()
    {
        Week LaunchAt(int minutes) => Week(1, Task("fill", 60)) with { Launch = Evening(0, minutes) };
        Infeasible(LaunchAt(59), RuleId.Launch, _ => true);
        Feasible(LaunchAt(60));
    }

    [Fact]
    public void Work_longer_than_every_stretch_outside_a_ban_is_put_down_to_the_ban()
    {
        Week BannedFrom(int minutes) => Week(1, Task("drill", 60) with { Traits = ["noisy"] }) is var week
            ? week with { Nights =
                [week.Nights[0] with { Bans = [new("noisy", Evening(0, minutes), Evening(0, minutes + 30))] }] } : week;
        Infeasible(BannedFrom(55), RuleId.Ban, about => about.Task == "drill");
        Feasible(BannedFrom(60));
    }

    [Fact]
    public void Same_night_work_that_no_night_can_hold_together_is_named()
    {
        Week Chain(int minutes) =>
            Week(2, Task("hang", 60), Task("secure", minutes) with { After = [new("hang") { SameNight = true }] });
        Infeasible(Chain(65), RuleId.SameNight, about => about.Display == "wall");
        Feasible(Chain(60));
    }

    [Fact]
    public void A_zone_that_stays_closed_for_too_long_is_named()
    {
        Week Closed(int minutes) => Week(1, Task("glue", 30) with { ClosesZoneMinutes = minutes }, Task("dress", 60, "glue"));
        Infeasible(Closed(35), RuleId.ZoneClosed, about => about.Display == "wall");
        Feasible(Closed(30));
    }

    [Fact]
    public void A_task_longer_than_every_night_is_put_down_to_the_nights()
    {
        Infeasible(Week(1, Task("paint", 125)), RuleId.Window, about => about.Task == "paint" && about.Night == "n1");
        Feasible(Week(1, Task("paint", 120)));
        // Two parts of 65 minutes do not fit into one night of 120 either, but they fit into two.
        Infeasible(Week(1, Task("paint", 125) with { Stints = 2 }), RuleId.Window, about => about.Task == "paint");
        Feasible(Week(2, Task("paint", 125) with { Stints = 2 }));
    }

    [Fact]
    public void More_equipment_than_the_store_has_is_named()
    {
        Week Lifts(int count) =>
            Week(1, Task("hang", 30) with { Modes = [new(30, [new("any", 1)]) { Equipment = [new("lift", count)] }] });
        Infeasible(Lifts(2), RuleId.Equipment, about => about.Equipment == "lift");
        Feasible(Lifts(1));
    }

    [Fact]
    public void Work_that_keeps_the_only_lift_longer_than_the_night_is_named()
    {
        WeekTask Hang(string id, int minutes) =>
            Task(id, minutes) with { Modes = [new(minutes, [new("any", 1)]) { Equipment = [new("lift", 1)] }] };
        Infeasible(Week(1, Hang("left", 60), Hang("right", 65)), RuleId.Equipment, about => about.Equipment == "lift");
        Feasible(Week(1, Hang("left", 60), Hang("right", 60)));
    }

    [Fact]
    public void More_people_than_a_zone_has_room_for_is_named()
    {
        Week Room(int people) => Week(1, Task("lift", 30) with { Modes = [new(30, [new("any", 2)])] }) is var week
            ? week with { Store = week.Store with { Zones = [new("floor", "Floor", people)] } } : week;
        Infeasible(Room(1), RuleId.ZoneRoom, about => about.Zone == "floor");
        Feasible(Room(2));
    }

    [Fact]
    public void A_clean_down_that_does_not_fit_after_the_work_is_named()
    {
        Week Down(int minutes) => Week(1, Task("fill", 90)) is var week
            ? week with { Store = week.Store with { Zones = [new("floor", "Floor", null, new(minutes, [new("any", 1)]))] } }
                : week;
        // A longer night would do as well, and is asked first: it is the fact of the two.
        Infeasible(Down(35), RuleId.Window, about => about.Task == "fill");
        Feasible(Down(30));
    }

    [Fact]
    public void Work_that_waits_for_a_kit_and_then_is_too_much_for_the_nights_left_is_put_down_to_the_kit()
    {
        WeekTask[] fills = [.. Enumerable.Range(1, 3)
            .Select(number => Task($"fill-{number}", 90) with { Needs = [new("props")] })];
        Week Arriving(int evening) => Week(2, fills) with { Kits = [new("props", "Props", Evening(evening))] };
        // 3 x 90 minutes against 2 x 120 in one night; nights 1 and 2 together have 480.
        Infeasible(Arriving(1), RuleId.Kit, about => about.Kit == "props");
        Feasible(Arriving(0));
    }

    [Fact]
    public void A_want_that_cannot_be_built_is_left_out_and_bounds_the_value()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] }) with
        {
            Kits = [new("props", "Props", null)], Displays = [new("wall", "Wall", DisplayCommitment.Want) { Value = 30 }],
        };
        Assert.Equal(30, Feasible(week).Bound(GoalId.LeftOut));
    }

    [Fact]
    public void A_must_that_cannot_be_built_gives_way_to_its_alternate_at_its_price()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] }, Task("banner", 30) with { Display = "plain" }) with
        {
            Kits = [new("props", "Props", null)],
            Displays = [new("wall", "Wall", DisplayCommitment.Must) { Alternate = new("plain", 12) },
                new("plain", "Plain", DisplayCommitment.Want) { Value = 1 }],
        };
        Assert.Equal(12, Feasible(week).Bound(GoalId.LeftOut));
        Infeasible(week with { Tasks = [week.Tasks[0], week.Tasks[1] with { Needs = [new("props")] }] }, RuleId.Kit, about =>
            about.Kit == "props");
    }
}
