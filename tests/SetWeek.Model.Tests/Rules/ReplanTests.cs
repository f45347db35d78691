using SetWeek.Model.Weeks;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Rules;

/// <summary>
/// In a re-plan the rules bind only what can still be planned. Breaches among begun work alone are listed as unavoidable
/// (docs/decisions/replan-reading.md). Unless a test says otherwise, two tasks are published for Monday: Ana masks from 22:00
/// to 23:00, Bo paints from 23:00 to 00:00. It is 23:30.
/// </summary>
public sealed class ReplanTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("mask", 60).Task("paint", 60);

    private static TinyPlan PublishedFor(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");

    private static TinyPlan OnShift(TinyPlan plan) => plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00");

    /// <summary>Both have begun. Masking took until 23:20. Painting began at 23:05 and is running.</summary>
    private static TinyPlan BothBegun(TinyWeek week)
    {
        var published = PublishedFor(Week);
        return OnShift(week.Replan(published, "2027-03-08T23:30",
                published.Report("mon", "mask", Done, "22:00", "23:20"), published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "mask", "22:00", "23:20", "ana").Work("mon", "paint", "23:05", "00:05", "bo");
    }

    /// <summary>Only painting has begun; masking is still to be planned.</summary>
    private static TinyPlan OnlyPaintBegun(TinyWeek week)
    {
        var published = PublishedFor(Week);
        return OnShift(week.Replan(published, "2027-03-08T23:30", published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "paint", "23:05", "00:05", "bo");
    }

    private static void AssertUnavoidable(string rule, TinyPlan plan)
    {
        Assert.Empty(plan.BrokenRules);
        Assert.Equal([rule], plan.UnavoidablyBrokenRules);
    }

    private static readonly TinyWeek PaintAfterMask = TinyWeek.New.Task("mask", 60).Task("paint", 60, after: "mask", dry: 0);

    [Fact]
    public void Begun_work_that_overlaps_its_predecessor_is_unavoidable() =>
        AssertUnavoidable("after", BothBegun(PaintAfterMask));

    [Fact]
    public void Begun_work_whose_predecessor_is_still_to_do_is_unavoidable() =>
        AssertUnavoidable("after", OnlyPaintBegun(PaintAfterMask).Work("mon", "mask", "00:30", "01:30", "ana"));

    [Fact]
    public void Planned_work_waits_for_the_expected_end_of_running_work()
    {
        var plan = OnlyPaintBegun(TinyWeek.New.Task("paint", 60).Task("mask", 60, after: "paint"));
        Assert.Equal(["after"], plan.Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "00:05", "01:05", "ana").BrokenRules);
    }

    /// <summary>Masking ended at 23:00 and dries for an hour. Painting began at 23:05.</summary>
    [Fact]
    public void Work_begun_before_its_predecessor_was_dry_is_unavoidable()
    {
        var published = PublishedFor(Week);
        var week = TinyWeek.New.Task("mask", 60).Task("paint", 60, after: "mask", dry: 60);
        AssertUnavoidable("drying", OnShift(week.Replan(published, "2027-03-08T23:30",
                published.Report("mon", "mask", Done, "22:00", "23:00"), published.Report("mon", "paint", Running, "23:05")))
            .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:05", "00:05", "bo"));
    }

    [Fact]
    public void Work_begun_before_its_kit_arrived_is_unavoidable() =>
        AssertUnavoidable("kit", BothBegun(TinyWeek.New.Kit("tins", null)
        .Task("mask", 60).Task("paint", 60, task => task with { Needs = [new("tins")] })));

    [Fact]
    public void Begun_work_without_the_required_skill_is_unavoidable() => AssertUnavoidable("skill",
        BothBegun(Week.Person("bo", bo => bo with { Skills = new Dictionary<string, int>() })));

    [Fact]
    public void Begun_work_in_a_ban_is_unavoidable() => AssertUnavoidable("ban", BothBegun(TinyWeek.New
        .Ban("mon", "noisy", "2027-03-09T00:00", "2027-03-09T01:00")
        .Task("mask", 60).Task("paint", 60, task => task with { Traits = ["noisy"] })));

    [Fact]
    public void Begun_work_barred_to_a_young_worker_is_unavoidable() => AssertUnavoidable("young-worker", BothBegun(TinyWeek.New
        .Rules(new() { Under18 = new() { Barred = ["ladder"] } }).Person("bo", bo => bo with { Under18 = true })
        .Task("mask", 60).Task("paint", 60, task => task with { Traits = ["ladder"] })));

    [Fact]
    public void Begun_work_beyond_equipment_or_room_is_unavoidable()
    {
        AssertUnavoidable("equipment", BothBegun(TinyWeek.New.Equipment("ladder", 1).Task("mask", 60, Ladder)
            .Task("paint", 60, Ladder)));
        AssertUnavoidable("zone-room", BothBegun(Week.Zone("wall", zone => zone with { MaxPeople = 1 })));
    }

    [Fact]
    public void Planned_work_may_not_conflict_with_begun_work()
    {
        var plan = OnlyPaintBegun(TinyWeek.New.Equipment("ladder", 1).Task("mask", 60, Ladder).Task("paint", 60, Ladder));
        Assert.Equal(["equipment"], plan.Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
        Assert.Empty(plan.Work("mon", "mask", "00:05", "01:05", "ana").BrokenRules);
        Assert.Equal(["one-place"], OnlyPaintBegun(Week).Work("mon", "mask", "00:00", "01:00", "bo").BrokenRules);
        Assert.Equal(["zone-room"], OnlyPaintBegun(Week.Zone("wall", zone => zone with { MaxPeople = 1 }))
            .Work("mon", "mask", "00:00", "01:00", "ana").BrokenRules);
    }

    private static WeekTask Ladder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    [Fact]
    public void Begun_work_in_a_zone_closed_by_begun_work_is_unavoidable()
    {
        var week = TinyWeek.New.Task("mask", 60, task => task with { ClosesZoneMinutes = 10 }).Task("paint", 60);
        AssertUnavoidable("zone-closed", BothBegun(week));
        // Planned work that closes the zone may not close it over running work.
        Assert.Equal(["zone-closed"], OnlyPaintBegun(TinyWeek.New.Task("paint", 60,
            task => task with { ClosesZoneMinutes = 10 }).Task("mask", 60))
            .Work("mon", "mask", "00:10", "01:10", "ana").BrokenRules);
    }

    [Fact]
    public void All_breaches_of_a_night_that_is_over_are_unavoidable()
    {
        var published = PublishedFor(Week);
        var plan = OnShift(Week.Rules(new() { MaxShiftMinutes = 60, KeyholderPresent = true, MinPeople = 3 })
            .Replan(published, "2027-03-09T12:00",
                published.Report("mon", "mask", Done, "22:00", "23:00"), published.Report("mon", "paint", Done, "23:00",
                    "00:00")))
            .Work("mon", "mask", "22:00", "23:00", "ana").Work("mon", "paint", "23:00", "00:00", "bo");
        Assert.Empty(plan.BrokenRules);
        Assert.Equal(["shift-length", "keyholder", "two-person"], plan.UnavoidablyBrokenRules);
    }

    /// <summary>
    /// Posing is done but was not secured in its night. Once that night is over, securing in the next is allowed.
    /// </summary>
    [Theory]
    [InlineData("2027-03-09T05:00", false)]
    [InlineData("2027-03-09T06:00", true)]
    public void A_same_night_precedence_ends_with_its_night(string now, bool allowed)
    {
        var week = TinyWeek.New.Task("pose", 60).Task("secure", 30, after: "pose", sameNight: true);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
            .Work("mon", "pose", "22:00", "23:00", "ana").Work("mon", "secure", "05:00", "05:30", "ana");
        var plan = week.Replan(published, now, published.Report("mon", "pose", Done, "22:00", "23:00"))
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
                .Work("mon", "pose", "22:00", "23:00", "ana")
            .Work("tue", "secure", "22:00", "22:30", "ana");
        Assert.Equal(allowed ? [] : ["same-night"], plan.BrokenRules);
        Assert.Empty(plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void A_due_that_has_passed_is_unavoidable_and_one_to_come_binds()
    {
        var week = TinyWeek.New.Task("window", 60, task => task with { Due = "mon" });
        TinyPlan At(string now) => week.Replan(week.Plan, now).Shift("tue", "ana", "22:00", "06:00")
            .Work("tue", "window", "22:00", "23:00", "ana");
        AssertUnavoidable("due", At("2027-03-09T06:00"));
        Assert.Equal(["due"], At("2027-03-09T05:59").BrokenRules);
    }

    [Fact]
    public void A_launch_that_has_passed_is_unavoidable_and_one_to_come_binds()
    {
        var week = TinyWeek.New.Task("window", 60).With(week => week with { Launch = TinyWeek.Local("2027-03-09T09:00") });
        TinyPlan At(string now) => week.Replan(week.Plan, now).Shift("tue", "ana", "22:00", "06:00")
            .Work("tue", "window", "22:00", "23:00", "ana");
        AssertUnavoidable("launch", At("2027-03-09T09:00"));
        Assert.Equal(["launch"], At("2027-03-09T08:59").BrokenRules);
    }

    /// <summary>A plan for Tuesday of a task due on Monday, after Monday night. The display has the task and one more.</summary>
    private static TinyPlan AfterItsDue(Func<TinyWeek, TinyWeek> change, params string[] begun)
    {
        var week = change(TinyWeek.New.Task("window", 60, task => task with { Due = "mon" }).Task("mask", 60));
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana");
        var plan = week.Replan(published, "2027-03-09T06:00",
                [.. begun.Select(task => published.Report("mon", task, Done, "22:00", "23:00"))])
            .Shift("mon", "ana", "22:00", "06:00").Shift("tue", "ana", "22:00", "06:00")
            .Work("tue", "window", "22:00", "23:00", "ana");
        return begun.Length > 0 ? plan.Work("mon", "mask", "22:00", "23:00", "ana")
            : plan.Work("tue", "mask", "23:00", "00:00", "ana");
    }

    private static TinyWeek AsWant(TinyWeek week) =>
        week.Display("wall", wall => wall with { Commitment = DisplayCommitment.Want, Value = 5 });

    [Fact]
    public void A_want_of_which_nothing_has_begun_may_not_be_built_after_a_due_that_has_passed()
    {
        Assert.Equal(["due"], AfterItsDue(AsWant).BrokenRules);
        AssertUnavoidable("due", AfterItsDue(AsWant, "mask"));
        AssertUnavoidable("due", AfterItsDue(week => week));
    }

    /// <summary>The wall is the alternate of the hall, which has no tasks left to plan.</summary>
    [Theory, InlineData(DisplayCommitment.Must, false), InlineData(DisplayCommitment.Want, true)]
    public void An_alternate_is_built_after_its_due_only_in_place_of_a_must(DisplayCommitment commitment, bool binds)
    {
        var plan = AfterItsDue(week => week.Task("paint", 60, task => task with { Display = "hall" })
            .Display("hall", hall => hall with { Commitment = commitment, Value = 5, Alternate = new("wall", 2) }));
        Assert.Equal(binds ? ["due"] : [], plan.BrokenRules);
        Assert.Equal(binds ? [] : ["due"], plan.UnavoidablyBrokenRules);
    }

    [Fact]
    public void A_want_of_which_nothing_has_begun_may_not_be_built_after_a_launch_that_has_passed()
    {
        static TinyWeek Launched(TinyWeek week) => AsWant(week).With(one => one with
        {
            Launch = TinyWeek.Local("2027-03-09T05:00"), Tasks = [.. one.Tasks.Select(task => task with { Due = null })],
        });
        Assert.Equal(["launch"], AfterItsDue(Launched).BrokenRules);
        AssertUnavoidable("launch", AfterItsDue(Launched, "mask"));
    }

    private static readonly TinyWeek WithCleanDown = TinyWeek.New.CleanDown("wall", 10)
        .Task("mask", 60).Task("paint", 60);

    /// <summary>The clean-down began at 23:05, although masking lasted until 23:20.</summary>
    [Fact]
    public void Work_after_the_clean_down_is_unavoidable_only_where_it_has_begun()
    {
        var published = WithCleanDown.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Shift("tue", "bo", "22:00", "06:00")
            .Work("mon", "mask", "22:00", "23:00", "ana").CleanDown("mon", "wall", "23:00", "23:10", "bo")
                .Work("tue", "paint", "22:00", "23:00", "bo")
            .CleanDown("tue", "wall", "23:00", "23:10", "bo");
        var plan = OnShift(WithCleanDown.Replan(published, "2027-03-08T23:30",
            published.Report("mon", "mask", Done, "22:00", "23:20"),
                published.ReportCleanDown("mon", "wall", Done, "23:05", "23:15"))).Shift("tue", "bo", "22:00", "06:00")
            .Work("mon", "mask", "22:00", "23:20", "ana").CleanDown("mon", "wall", "23:05", "23:15", "bo");
        AssertUnavoidable("clean-down", plan.Work("tue", "paint", "22:00", "23:00", "bo")
            .CleanDown("tue", "wall", "23:00", "23:10", "bo"));
        Assert.Equal(["clean-down"], plan.Work("mon", "paint", "23:30", "00:30", "bo").BrokenRules);
    }

    /// <summary>At 05:50 the clean-down of ten minutes still fits into the night; at 05:51 it does not.</summary>
    [Theory]
    [InlineData("2027-03-09T05:50", true)]
    [InlineData("2027-03-09T05:51", false)]
    public void A_clean_down_that_no_longer_fits_into_the_night_is_unavoidable(string now, bool binds)
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
    public void A_final_clean_that_began_too_early_is_unavoidable()
    {
        var week = TinyWeek.New.Task("mask", 60).Task("paint", 60, task => task with { Last = true });
        AssertUnavoidable("last", OnlyPaintBegun(week).Work("mon", "mask", "00:30", "01:30", "ana"));
    }
}
