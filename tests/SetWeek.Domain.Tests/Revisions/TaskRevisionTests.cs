using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;
using static SetWeek.Domain.Tests.Revisions.RevisedWeek;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>Tasks and displays of an open week are added, changed, dropped and left out.</summary>
public sealed class TaskRevisionTests
{
    [Fact]
    public void A_task_added_by_a_lead_names_its_author_and_one_from_the_direction_its_version()
    {
        var added = Given().Week.Tasks[0] with { Id = "feature-wall.wash", Name = "Wash the wall", Stints = 1, Needs = [] };
        var revision = Revised(Given(), week => week.With(added));
        var after = Given([.. revision.Events]);
        Assert.Equal(new TaskOrigin("first-rain", 1, Author: "lena"), after.TaskOrigins["feature-wall.wash"]);
        Assert.Equal(new TaskOrigin("first-rain", 1), after.TaskOrigins["feature-wall.paint"]);

        var resized = Revised(Given(), week => WeekChange.Apply(week, [new TaskMinutes("feature-wall.paint", 90)]));
        var revised = Assert.IsType<TasksRevised>(Assert.Single(resized.Events));
        Assert.Equal((90, TaskRevisionKind.Store, "lena"), (revised.Set.Single().Modes[0].Minutes, revised.Kind, revised.By));
        Assert.Equal(new TaskOrigin("first-rain", 1, RevisedBy: "lena"), Given(revised).TaskOrigins["feature-wall.paint"]);
    }

    [Fact]
    public void A_task_is_dropped_with_its_pins_and_what_followed_it_need_not_wait()
    {
        IWeekEvent pin = new Pinned("pin-1", new StintPin("feature-wall.paint") { Night = "monday" });
        var revision = Revised(Given(pin), week => week.WithoutTask("feature-wall.paint"));
        var revised = revision.Events.OfType<TasksRevised>().Single();
        Assert.Equal(("feature-wall.paint", "feature-wall.refit"), (revised.Dropped.Single(), revised.Set.Single().Id));
        Assert.Contains(new Unpinned("pin-1"), revision.Events);
        var after = Given([pin, .. revision.Events]);
        Assert.DoesNotContain("feature-wall.paint", after.TaskOrigins.Keys);
        Assert.Empty(after.Week.Tasks.Single(task => task.Id == "feature-wall.refit").After);
    }

    [Fact]
    public void A_want_that_is_left_out_stays_in_the_week_and_can_be_built_again()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new LeaveOut("cycle.panel")]));
        Assert.Equal([new DisplayChoiceSet("cycle.panel", DisplayChoice.LeaveOut)], revision.Events);
        var after = Given([.. revision.Events]);
        Assert.Equal(Given().Week.Displays, after.Week.Displays);
        Assert.Contains("cycle.panel", DisplayExclusion.ExcludedFrom(PlanningProblem.WeekOf(after, Crew)));
        var again = after.Revise(Crew, PlanningProblem.WeekOf(after.With("cycle.panel", DisplayChoice.Build), Crew), MondayEvening,
            "lena").AsT0;
        Assert.Equal([new DisplayChoiceSet("cycle.panel", DisplayChoice.Build)], again.Events);
    }

    [Fact]
    public void A_display_that_is_left_out_stays_so_when_one_of_its_tasks_changes()
    {
        var week = Given(new DisplayChoiceSet("cycle.panel", DisplayChoice.LeaveOut));
        var longer = Given().Week.Tasks.Single(task => task.Display == "cycle.panel") with { ClosesZoneMinutes = 10 };
        var revised = Assert.IsType<TasksRevised>(Assert.Single(Revised(week, wanted => wanted.With(longer)).Events));
        Assert.True(WeekParts.Same(longer, revised.Set.Single()));
    }

    /// <summary>Left out, a must counts as a want of value 100. That is part of the decision, not a change of the display.</summary>
    [Fact]
    public void A_must_that_is_left_out_is_a_must_again_once_it_is_built()
    {
        var revision = Revised(Given(), week => WeekChange.Apply(week, [new LeaveOut("feature-wall")]));
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut)], revision.Events);
        Assert.Equal(DisplayCommitment.Must, Given([.. revision.Events]).Week.Displays[0].Commitment);
        Assert.Empty(Revised(Given([.. revision.Events]), week => week).Events);
    }

    [Fact]
    public void An_alternate_is_chosen_by_one_event_and_so_are_both_left_out()
    {
        IWeekEvent alternate = new DisplaySet(Given().Week.Displays[0] with { Alternate = new Alternate("cycle.panel", 10) });
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate)],
            Revised(Given(alternate), week => WeekChange.Apply(week, [new UseAlternate("feature-wall")])).Events);
        Assert.Equal([new DisplayChoiceSet("feature-wall", DisplayChoice.LeaveOut)],
            Revised(Given(alternate), week => WeekChange.Apply(week, [new LeaveOut("feature-wall")])).Events);
    }

    [Fact]
    public void The_alternate_of_a_must_that_is_built_instead_of_it_stays()
    {
        var week = Given(new DisplaySet(Given().Week.Displays[0] with { Alternate = new Alternate("cycle.panel", 10) }),
            new DisplayChoiceSet("feature-wall", DisplayChoice.UseAlternate));
        var faults = week.Revise(Crew, Wanted(week, wanted => wanted.With(wanted.Displays[0] with { Alternate = null })),
            MondayEvening, "lena").AsT2.All;
        Assert.Equal("/displays/0/commitment", Assert.Single(faults).Pointer);
    }

    [Fact]
    public void A_display_is_set_and_dropped_with_its_tasks()
    {
        var want = new Display("feature-wall", "Painted wall", DisplayCommitment.Want) { Value = 70 };
        Assert.Equal([new DisplaySet(want)], Revised(Given(), week => week.With(want)).Events);
        var dropped = Revised(Given(), week => week with
        {
            Displays = [week.Displays[0]], Tasks = [.. week.Tasks.Where(task => task.Display == "feature-wall")],
        }).Events;
        Assert.Equal(new DisplayDropped("cycle.panel"), dropped[0]);
        Assert.Equal(["cycle.panel.lean"], Assert.IsType<TasksRevised>(dropped[1]).Dropped);
    }
}
