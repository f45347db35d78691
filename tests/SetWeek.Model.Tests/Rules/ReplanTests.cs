using SetWeek.Model.Weeks;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Rules;

/// <summary>
/// In a re-plan rules bind only what can still be planned; what facts alone break is listed as such
/// (docs/decisions/replan-reading.md). Unless said otherwise two tasks are published for Monday, Ana at one from 22:00 to 23:00
/// and Bo at the other from 23:00 to 00:00, and it is 23:30.
/// </summary>
public sealed class ReplanTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60).Task("paint", 60);

    private static TinyPlan Publish(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");

    private static TinyPlan OnShift(TinyPlan plan) => plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00");

    /// <summary>Both have begun: masking ran over, until 23:20, and painting began at 23:05 and runs.</summary>
    private static TinyPlan BothBegun(TinyWeek week)
    {
        var published = Publish(Week);
        return OnShift(week.Replan(published, "2027-03-08T23:30",
                published.Report("mon", "mask", Done, "22:00", "23:20"), published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "mask", "22:00", "23:20", "ana").Work("mon", "paint", "23:05", "00:05", "bo");
    }

    /// <summary>Only painting has begun; masking is still to be planned.</summary>
    private static TinyPlan OnlyPaintBegun(TinyWeek week)
    {
        var published = Publish(Week);
        return OnShift(week.Replan(published, "2027-03-08T23:30", published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "paint", "23:05", "00:05", "bo");
    }

    private static void OnlyFacts(string rule, TinyPlan plan)
    {
        Assert.Empty(plan.BrokenRules);
        Assert.Equal([rule], plan.UnavoidablyBrokenRules);
    }

    private static readonly TinyWeek PaintAfterMask = TinyWeek.New.Task("mask", 60).Task("paint", 60, after: "mask", dry: 0);

    [Fact]
    public void Begun_work_that_did_not_wait_is_a_fact() => OnlyFacts("after", BothBegun(PaintAfterMask));

    [Fact]
    public void Begun_work_whose_forerunner_was_skipped_or_reopened_is_a_fact() =>
        OnlyFacts("after", OnlyPaintBegun(PaintAfterMask).Work("mon", "mask", "00:30", "01:30", "ana"));

    [Fact]
    public void Work_still_to_come_waits_for_begun_work_as_it_really_ends()
    {
        var plan = OnlyPaintBegun(TinyWeek.New.Task("paint", 60).Task("mask", 60, after: "paint"));
        Assert.Equal(["after"], plan.Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "00:05", "01:05", "ana").BrokenRules);
    }

    /// <summary>Painting began five minutes after masking ended at 23:00; an hour was to dry.</summary>
    [Fact]
    public void Begun_work_on_a_wet_coat_is_a_fact()
    {
        var published = Publish(Week);
        var week = TinyWeek.New.Task("mask", 60).Task("paint", 60, after: "mask", dry: 60);
        OnlyFacts("drying", OnShift(week.Replan(published, "2027-03-08T23:30",
                published.Report("mon", "mask", Done, "22:00", "23:00"), published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:05", "00:05", "bo"));
    }

    [Fact]
    public void Begun_work_before_its_kit_is_a_fact() => OnlyFacts("kit", BothBegun(TinyWeek.New.Kit("tins", null)
        .Task("mask", 60).Task("paint", 60, task => task with { Needs = [new("tins")] })));

    [Fact]
    public void Begun_work_without_its_skill_is_a_fact() => OnlyFacts("skill",
        BothBegun(Week.Person("bo", bo => bo with { Skills = new Dictionary<string, int>() })));

    [Fact]
    public void Begun_work_in_a_ban_is_a_fact() => OnlyFacts("ban", BothBegun(TinyWeek.New
        .Ban("mon", "noisy", "2027-03-09T00:00", "2027-03-09T01:00")
        .Task("mask", 60).Task("paint", 60, task => task with { Traits = ["noisy"] })));

    [Fact]
    public void Begun_work_barred_to_an_under_18_is_a_fact() => OnlyFacts("young-worker", BothBegun(TinyWeek.New
        .Rules(new() { Under18 = new() { Barred = ["ladder"] } }).Person("bo", bo => bo with { Under18 = true })
        .Task("mask", 60).Task("paint", 60, task => task with { Traits = ["ladder"] })));

    [Fact]
    public void Two_begun_works_that_share_too_little_are_a_fact()
    {
        OnlyFacts("equipment", BothBegun(TinyWeek.New.Equipment("ladder", 1).Task("mask", 60, Ladder).Task("paint", 60, Ladder)));
        OnlyFacts("zone-room", BothBegun(Week.Zone("wall", zone => zone with { MaxPeople = 1 })));
    }

    [Fact]
    public void Work_still_to_come_gives_way_to_begun_work()
    {
        var plan = OnlyPaintBegun(TinyWeek.New.Equipment("ladder", 1).Task("mask", 60, Ladder).Task("paint", 60, Ladder));
        Assert.Equal(["equipment"], plan.Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "00:05", "01:05", "ana").BrokenRules);
        Assert.Equal(["one-place"], OnlyPaintBegun(Week).Work("mon", "mask", "00:00", "01:00", "bo").BrokenRules);
        Assert.Equal(["zone-room"], OnlyPaintBegun(Week.Zone("wall", zone => zone with { MaxPeople = 1 }))
            .Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
    }

    private static WeekTask Ladder(WeekTask task) => task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    [Fact]
    public void Begun_work_in_a_zone_that_begun_work_closed_is_a_fact()
    {
        var week = TinyWeek.New.Task("mask", 60, task => task with { ClosesZoneMinutes = 10 }).Task("paint", 60);
        OnlyFacts("zone-closed", BothBegun(week));
        // Still to come, the closing work gives way: it may not end so that the running work lies in the time that it closes.
        Assert.Equal(["zone-closed"], OnlyPaintBegun(TinyWeek.New.Task("paint", 60,
            task => task with { ClosesZoneMinutes = 10 }).Task("mask", 60))
            .Work("mon", "mask", "00:10", "01:10", "ana").BrokenRules);
    }

    [Fact]
    public void The_night_is_over_so_nothing_of_it_binds()
    {
        var published = Publish(Week);
        var plan = OnShift(Week.Rules(new() { MaxShiftMinutes = 60, KeyholderPresent = true, MinPeople = 3 })
            .Replan(published, "2027-03-09T12:00",
                published.Report("mon", "mask", Done, "22:00", "23:00"), published.Report("mon", "paint", Done, "23:00",
                    "00:00")))
            .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(["shift-length", "keyholder", "two-person"], plan.UnavoidablyBrokenRules);
    }

    /// <summary>
    /// Posing is done, but it was not secured in its night, which is over: securing it the next night is allowed.
    /// </summary>
    [Theory]
    [InlineData("2027-03-09T05:00", false)]
    [InlineData("2027-03-09T06:00", true)]
    public void Same_night_lapses_once_the_night_is_over(string now, bool lapsed)
    {
        var week = TinyWeek.New.Task("pose", 60).Task("secure", 30, after: "pose", sameNight: true);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
            .Work("mon", "pose", "22:00", "23:00", "ana").Work("mon", "secure", "05:00", "05:30", "ana");
        var plan = week.Replan(published, now, published.Report("mon", "pose", Done, "22:00", "23:00"))
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
                .Work("mon", "pose", "22:00", "23:00", "ana")
            .Work("tue", "secure", "22:00", "22:30", "ana");
        Assert.Equal(lapsed ? [] : ["same-night"], plan.BrokenRules);
        Assert.Empty(plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void A_due_that_has_passed_is_a_fact_and_one_to_come_binds()
    {
        var week = TinyWeek.New.Task("window", 60, task => task with { Due = "mon" });
        TinyPlan At(string now) => week.Replan(week.Plan, now).Shift("tue", "ana", "22:00", "06:00")
            .Work("tue", "window", "22:00", "23:00", "ana");
        OnlyFacts("due", At("2027-03-09T06:00"));
        Assert.Equal(["due"], At("2027-03-09T05:59").BrokenRules);
    }

    [Fact]
    public void A_launch_that_has_passed_is_a_fact()
    {
        var week = TinyWeek.New.Task("window", 60).With(week => week with { Launch = TinyWeek.Local("2027-03-09T09:00") });
        TinyPlan At(string now) => week.Replan(week.Plan, now).Shift("tue", "ana", "22:00", "06:00")
            .Work("tue", "window", "22:00", "23:00", "ana");
        OnlyFacts("launch", At("2027-03-09T09:00"));
        Assert.Equal(["launch"], At("2027-03-09T08:59").BrokenRules);
    }

    private static readonly TinyWeek Cleaned = TinyWeek.New.CleanDown("wall", 10)
        .Task("mask", 60).Task("paint", 60);

    /// <summary>The clean-down was done at 23:05, though masking went on until 23:20.</summary>
    [Fact]
    public void Begun_work_after_the_zones_clean_down_is_a_fact_and_new_work_after_it_is_not()
    {
        var published = Cleaned.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Shift("tue", "bo", "22:00", "06:00")
            .Work("mon", "mask", "22:00", "23:00", "ana").CleanDown("mon", "wall", "23:00", "23:10", "bo")
                .Work("tue", "paint", "22:00", "23:00", "bo")
            .CleanDown("tue", "wall", "23:00", "23:10", "bo");
        var plan = OnShift(Cleaned.Replan(published, "2027-03-08T23:30", published.Report("mon", "mask", Done, "22:00", "23:20"),
                published.ReportCleanDown("mon", "wall", Done, "23:05", "23:15"))).Shift("tue", "bo", "22:00", "06:00")
            .Work("mon", "mask", "22:00", "23:20", "ana").CleanDown("mon", "wall", "23:05", "23:15", "bo");
        OnlyFacts("clean-down", plan.Work("tue", "paint", "22:00", "23:00", "bo")
            .CleanDown("tue", "wall", "23:00", "23:10", "bo"));
        Assert.Equal(["clean-down"], plan.Work("mon", "paint", "23:30", "00:30", "bo").BrokenRules);
    }

    /// <summary>At 05:50 ten minutes of clean-down still fit in, at 05:51 they do not.</summary>
    [Theory]
    [InlineData("2027-03-09T05:50", true)]
    [InlineData("2027-03-09T05:51", false)]
    public void A_clean_down_for_which_the_night_is_too_short_is_a_fact(string now, bool binds)
    {
        var week = TinyWeek.New.CleanDown("wall", 10).Task("mask", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana")
            .CleanDown("mon", "wall", "05:45", "05:55", "ana");
        var plan = week.Replan(published, now, published.Report("mon", "mask", Done, "04:00", "05:00"))
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "04:00", "05:00", "ana");
        Assert.Equal(binds ? ["clean-down"] : [], plan.BrokenRules);
        Assert.Equal(binds ? [] : ["clean-down"], plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void A_final_clean_that_began_too_early_is_a_fact()
    {
        var week = TinyWeek.New.Task("mask", 60).Task("paint", 60, task => task with { Last = true });
        OnlyFacts("last", OnlyPaintBegun(week).Work("mon", "mask", "00:30", "01:30", "ana"));
    }
}
