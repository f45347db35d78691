using NodaTime;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Tests.Comparing;

/// <summary>The example plan compared with a copy that has one change.</summary>
public class PlanChangesTests
{
    private static readonly Problem Before = Problem.Of(ExampleFiles.Week);

    private static PlanChanges After(Func<Plan, Plan> change, Problem? problem = null) =>
        PlanChanges.Between(problem ?? Before, ExampleFiles.Plan, change(ExampleFiles.Plan));

    private static Plan Night(Plan plan, int index, Func<PlannedNight, PlannedNight> change) =>
        plan with { Nights = [.. plan.Nights.Select((night, position) => position == index ? change(night) : night)] };

    private static PlannedNight WithShift(PlannedNight night, string person, Func<PlannedShift, PlannedShift?> change) =>
        night with { Shifts = [.. night.Shifts.Select(shift => shift.Person == person ? change(shift) : shift)
            .OfType<PlannedShift>()] };

    private static OffsetDateTime At(int day, int hour, int minute) =>
        new LocalDateTime(2027, 3, day, hour, minute).WithOffset(Offset.Zero);

    [Fact]
    public void An_identical_plan_has_no_changes()
    {
        var changes = After(plan => plan);
        Assert.Empty(changes.Shifts);
        Assert.Empty(changes.Work);
        Assert.Empty(changes.Notifications);
        Assert.Equal(changes.Cost.Was, changes.Cost.Now);
    }

    // Ada is paid 1550 an hour: half an hour later is 775 less.
    [Fact]
    public void A_shift_that_starts_later_is_notified_and_costs_less()
    {
        var changes =
            After(plan => Night(plan, 1, friday => WithShift(friday, "ada", shift => shift with { From = At(12, 19, 0) })));
        Assert.Equal(("ada", "fri"), (Assert.Single(changes.Shifts).Person, changes.Shifts[0].Night));
        Assert.Equal(["Friday 12 March: your shift is now 19:00 to 21:30 instead of 18:30 to 21:30."],
            Assert.Single(changes.Notifications).Sentences);
        Assert.Equal(775, changes.Cost.Was - changes.Cost.Now);
    }

    [Fact]
    public void A_dropped_shift_and_an_added_shift_are_notified()
    {
        var dropped = After(plan => Night(plan, 1, friday => WithShift(friday, "cy", _ => null)));
        Assert.Null(Assert.Single(dropped.Shifts).Now);
        Assert.Equal(["Friday 12 March: your shift is cancelled (18:30 to 21:30)."],
            Assert.Single(dropped.Notifications).Sentences);

        var added = PlanChanges.Between(Before, Night(ExampleFiles.Plan, 1, friday => WithShift(friday, "cy", _ => null)),
            ExampleFiles.Plan);
        Assert.Equal("Friday 12 March: you have a new shift, 18:30 to 21:30.", Assert.Single(added.Notifications).Sentences[0]);
    }

    [Fact]
    public void The_sentences_for_a_person_are_ordered_by_night()
    {
        var first = ExampleFiles.Plan.Nights[0];
        var work = first.Work.First(item => item.Task is not null && item.People.Any(hand => hand.Person == "ada"));
        var changes = After(plan => Night(
            Night(plan, 0, night => night with { Work = [.. night.Work.Where(item => item != work)] }), 1,
            friday => WithShift(friday, "ada", shift => shift with { From = At(12, 19, 0) })));
        Assert.Equal([$"Thursday 11 March: you no longer do {Before.Week.Tasks.First(task => task.Id == work.Task).Name}.",
            "Friday 12 March: your shift is now 19:00 to 21:30 instead of 18:30 to 21:30."],
            Assert.Single(changes.Notifications, notification => notification.Person == "ada").Sentences);
    }

    [Fact]
    public void A_person_is_told_one_sentence_for_a_night_with_another_shift_and_other_tasks()
    {
        var changes = After(plan => Night(plan, 1, friday => WithShift(friday, "bo", shift => shift with { From = At(12, 18, 0) }) with
        {
            Work = [.. friday.Work
                .Select(work => work.Task == "wall.dress" ? work with { People = [new("bo", "dressing")] } : work)],
        }));
        var dress = Before.Week.Tasks.First(task => task.Id == "wall.dress").Name;
        Assert.Equal([$"Friday 12 March: your shift is now 18:00 to 21:30 instead of 18:30 to 21:30, and you also do {dress}."],
            changes.Notifications.Single(notification => notification.Person == "bo").Sentences);
    }

    [Fact]
    public void Work_moved_to_another_night_names_both_nights()
    {
        var changes = After(plan =>
        {
            var moved = plan.Nights[0].Work.Single(work => work.Task == "wall.second-coat");
            return Night(Night(plan, 0, thursday => thursday with { Work = [.. thursday.Work.Where(work => work != moved)] }),
                1, friday => friday with { Work = [.. friday.Work, moved with { From = At(12, 20, 35), To = At(12, 21, 20) }] });
        });
        var change = Assert.Single(changes.Work);
        Assert.True(change.ChangedNight);
        Assert.Equal(("thu", "fri"), (change.NightWas, change.NightNow));
        Assert.Equal(["Thursday 11 March: you no longer do Second coat.", "Friday 12 March: you also do Second coat."],
            Assert.Single(changes.Notifications).Sentences);
    }

    [Fact]
    public void Work_given_to_somebody_else_is_notified_to_both()
    {
        var changes = After(plan => Night(plan, 1, friday => friday with
        {
            Work = [.. friday.Work
                .Select(work => work.Task == "wall.dress" ? work with { People = [new("bo", "dressing")] } : work)],
        }));
        Assert.False(Assert.Single(changes.Work).ChangedNight);
        Assert.Equal(["bo", "cy"], changes.Notifications.Select(notification => notification.Person));
    }

    // Notice is 1440 minutes: at 20:00 on Thursday, Friday 18:30 is 1350 minutes away.
    [Theory]
    [InlineData(11, true)]
    [InlineData(10, false)]
    public void A_change_within_the_notice_is_marked(int day, bool atShortNotice)
    {
        var problem = Problem.Of(ExampleFiles.Week, new Replan(ExampleFiles.Plan, new LocalDateTime(2027, 3, day, 20, 0), []));
        var changes = After(
            plan => Night(plan, 1, friday => WithShift(friday, "ada", shift => shift with { To = At(12, 22, 0) })), problem);
        Assert.Equal(atShortNotice, Assert.Single(changes.Shifts).AtShortNotice);
    }

    [Fact]
    public void Somebody_who_has_left_the_crew_is_named_by_id()
    {
        var problem = Problem.Of(ExampleFiles.Week with { Crew =
            [.. ExampleFiles.Week.Crew.Where(member => member.Id != "cy")] });
        var changes = PlanChanges.Between(problem, ExampleFiles.Plan,
            Night(ExampleFiles.Plan, 1, friday => WithShift(friday, "cy", _ => null)));
        Assert.Equal("cy", Assert.Single(changes.Notifications).Person);
    }
}
