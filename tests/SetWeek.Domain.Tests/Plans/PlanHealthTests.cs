using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Plans;

/// <summary>The facts with which the published plan no longer holds. It is the plan of the example, in a week with its display alone.</summary>
public sealed class PlanHealthTests
{
    private const string Paint = "feature-wall.paint";

    /// <summary>The week of the example with the painted wall alone, so that its plan keeps every rule.</summary>
    private static readonly WeekOpened Small = Opened with
    {
        Week = Opened.Week with
        {
            Displays = [Opened.Week.Displays[0]], Tasks = [.. Opened.Week.Tasks.Where(task => task.Id == Paint)],
        },
    };

    [Fact]
    public void Work_as_planned_needs_no_check()
    {
        IWeekEvent[] asPlanned =
        [
            new WorkStarted("r1", Paint, 1, "monday", At(21, 50)), new WorkFinished("r2", Paint, 1, "monday", At(22, 12)),
            new CleanDownStarted("r3", "wall", "monday", At(23, 5)),
        ];
        for (var count = 1; count <= asPlanned.Length; count++)
            Assert.False(PlanHealth.NeedsCheck(Week(asPlanned[..count]), [asPlanned[count - 1]]));
        Assert.Null(Change(asPlanned));
    }

    [Fact]
    public void A_late_kit_breaks_the_plan_at_the_first_stint_that_waits_for_it()
    {
        var broken = Assert.IsType<PlanBroken>(Change(new KitDelayed("paint", MondayEvening.PlusDays(1))));
        Assert.Equal(("plan-1", RuleId.Kit, Paint, 1, "monday", null),
            (broken.PlanId, broken.Rule, broken.Task, broken.Stint!.Value, broken.Night, broken.By));
        Assert.Equal(broken, Week(new KitDelayed("paint", MondayEvening.PlusDays(1)), broken).Published!.Broken);
    }

    [Fact]
    public void It_is_said_once_and_again_when_the_plan_holds_again()
    {
        IWeekEvent[] late = [new KitDelayed("paint", MondayEvening.PlusDays(1))];
        var broken = Change(late)!;
        Assert.Null(Change([.. late, broken, new KitDelayed("paint", MondayEvening.PlusDays(2))]));
        Assert.Equal(new PlanHoldsAgain("plan-1"), Change([.. late, broken, new KitExpected("paint", MondayEvening.PlusHours(-3))]));
        Assert.Null(Week([.. late, broken, new PlanHoldsAgain("plan-1")]).Published!.Broken);
        Assert.Null(Week([.. late, broken, Published with { PlanId = "plan-2" }]).Published!.Broken);
    }

    /// <summary>Without it, the page of the week would go on to say what is no longer so.</summary>
    [Fact]
    public void What_breaks_the_plan_is_said_anew_when_the_first_is_mended_and_another_remains()
    {
        var late = new KitDelayed("paint", MondayEvening.PlusDays(1));
        var absent = new PersonAbsent("p2", "monday");
        var broken = Assert.IsType<PlanBroken>(Change(late));
        Assert.Equal(RuleId.Kit, broken.Rule);
        Assert.Null(Change(late, broken, absent)); // the kit is late still
        var next = Assert.IsType<PlanBroken>(Change(late, broken, absent, new KitExpected("paint", MondayEvening.PlusHours(-3))));
        Assert.NotEqual(RuleId.Kit, next.Rule);
        Assert.Null(next.By);
        Assert.StartsWith("Ben Marsh's shift", NameRemoval.WithNames(next.Sentence, Crew));
        Assert.Equal(next, Week(late, broken, absent, next).Published!.Broken);
    }

    [Fact]
    public void An_absence_breaks_the_plan_at_the_first_work_of_that_person_without_naming_them()
    {
        var broken = Assert.IsType<PlanBroken>(Change(new PersonAbsent("p2", "monday")));
        Assert.Equal((Paint, 1), (broken.Task, broken.Stint));
        Assert.DoesNotContain("Ben", broken.Sentence);
        Assert.StartsWith("Ben Marsh's shift", NameRemoval.WithNames(broken.Sentence, Crew));
        Assert.StartsWith("\"p2\"'s shift", NameRemoval.WithNames(broken.Sentence, Crew.Without("p2")));
        Assert.IsType<PlanHoldsAgain>(Change(new PersonAbsent("p2", "monday"), broken, new AbsenceRetracted("p2", "monday")));
    }

    [Fact]
    public void A_report_that_breaks_the_plan_is_named_and_taking_it_back_mends_the_plan()
    {
        var block = new WorkBlocked("r1", Paint, 2, At(21, 40), "no-power", null, null);
        var broken = Assert.IsType<PlanBroken>(Change(block));
        Assert.Equal(("r1", RuleId.Frozen, 2), (broken.By, broken.Rule, broken.Stint));
        Assert.Equal("“Paint the wall”, part 2 of 2, is blocked: what is left of it has to be planned again.", broken.Sentence);
        Assert.IsType<PlanHoldsAgain>(Change(block, broken, new ReportRetracted("r2", "r1", At(21, 45))));
    }

    [Fact]
    public void Of_several_reports_that_are_checked_at_once_the_one_on_the_broken_work_is_named()
    {
        IWeekEvent[] reports =
        [
            new WorkStarted("r1", Paint, 1, "monday", At(21, 50)),
            new WorkBlocked("r2", Paint, 1, At(22, 0), "no-power", null, null),
            new WorkBlocked("r3", Paint, 2, At(22, 1), "no-power", null, null),
        ];
        var broken = Assert.IsType<PlanBroken>(PlanHealth.Change(Week(reports), Crew, reports));
        Assert.Equal(broken.Stint == 1 ? "r2" : "r3", broken.By);
        reports = [reports[0], reports[2], new KitArrived("r4", "paint", At(22, 2))];
        Assert.Equal("r3", Assert.IsType<PlanBroken>(PlanHealth.Change(Week(reports), Crew, reports)).By);
    }

    /// <summary>In a night that has gone off its plan each check would be in vain.</summary>
    [Fact]
    public void Once_it_is_broken_only_reports_on_the_work_that_broke_it_are_checked()
    {
        var block = new WorkBlocked("r1", Paint, 2, At(21, 40), "no-power", null, null);
        var broken = Change(block)!;
        var other = new WorkStarted("r2", Paint, 1, "monday", At(22, 40));
        Assert.True(PlanHealth.NeedsCheck(Week(block, other), [other]));
        Assert.False(PlanHealth.NeedsCheck(Week(block, broken, other), [other]));
        var same = new WorkStarted("r3", Paint, 2, "monday", At(22, 15));
        Assert.True(PlanHealth.NeedsCheck(Week(block, broken, same), [same]));
    }

    [Fact]
    public void A_stop_breaks_the_plan_until_it_is_lifted()
    {
        var stop = new WorkStopped("s1", "monday", "wall", At(21, 40));
        var broken = Assert.IsType<PlanBroken>(Change(stop));
        Assert.Equal((RuleId.Ban, "s1"), (broken.Rule, broken.By));
        Assert.IsType<PlanHoldsAgain>(Change(stop, broken, new StopLifted("s1", "wren")));
    }

    /// <summary>The clock has moved past the planned times of work that the week has dropped since.</summary>
    [Fact]
    public void A_fact_is_taken_when_the_plan_has_work_that_the_week_has_dropped()
    {
        Week[] smaller =
        [
            Small.Week with { Tasks = [] },
            Small.Week with { Tasks = [.. Small.Week.Tasks.Select(task => task with { Stints = 1 })] },
            Small.Week with { Nights = [Small.Week.Nights[1]] },
            Small.Week with { Store = Small.Week.Store with { Zones = [Small.Week.Store.Zones[1]] }, Tasks = [] },
        ];
        foreach (var week in smaller)
        {
            var stop = new WorkStopped("s1", "tuesday", null, At(23, 20));
            IWeekEvent[] events = [Small with { Week = week }, Published,
                new CleanDownFinished("r1", "wall", "tuesday", At(23, 16).PlusHours(24)), stop];
            var state = events.Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
            Assert.Null(Record.Exception(() => PlanHealth.Change(state, Crew, [stop])));
        }
    }

    [Fact]
    public void Time_that_passes_without_a_report_breaks_nothing() =>
        Assert.Null(Change(new CleanDownFinished("r1", "wall", "monday", At(23, 16))));

    private static StoreWeek Week(params IWeekEvent[] events) =>
        events.Prepend(Published).Prepend(Small).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;

    private static IWeekEvent? Change(params IWeekEvent[] events) => PlanHealth.Change(Week(events), Crew, [events[^1]]);
}
