using SetWeek.Domain.Directions;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>A later version of the direction is merged into an open week.</summary>
public sealed class DirectionUpdateTests
{
    [Fact]
    public void A_version_that_says_the_same_changes_only_the_number()
    {
        var revised = Assert.IsType<TasksRevised>(Assert.Single(Taken(Given(), FirstRain).Revision.Events));
        Assert.Equal((2L, TaskRevisionKind.Direction, 0, 0),
            (revised.Version, revised.Kind, revised.Set.Count, revised.Dropped.Count));
        Assert.Equal(2, Given(revised).DirectionVersion);
    }

    [Fact]
    public void What_both_versions_say_alike_stays_as_the_week_has_it()
    {
        var longer = Given().Week.Tasks[0] with { Modes = [new Mode(90, [new SkillRequirement("painting", 1)])] };
        var week = Given(new TasksRevised("first-rain", 1, null, TaskRevisionKind.Store, [longer], [], "lena"));
        var after = After(week, Changed(task => task.Id == "feature-wall.refit" ? task with { ClosesZoneMinutes = 30 } : task));
        Assert.Equal(90, after.Week.Tasks[0].Modes[0].Minutes);
        Assert.Equal(new TaskOrigin("first-rain", 1, RevisedBy: "lena"), after.TaskOrigins["feature-wall.paint"]);
        Assert.Equal(30, after.Week.Tasks.Single(task => task.Id == "feature-wall.refit").ClosesZoneMinutes);
        Assert.Equal(new TaskOrigin("first-rain", 2), after.TaskOrigins["feature-wall.refit"]);
    }

    /// <summary>The lead's own task follows the paint, which the later version drops: it need not wait any more.</summary>
    [Fact]
    public void A_task_that_somebody_added_stays_and_keeps_its_author()
    {
        var wash = Given().Week.Tasks[0] with { Id = "wash", Name = "Wash", Needs = [], After = [new("feature-wall.paint")] };
        var week = Given(new TasksRevised("first-rain", 1, null, TaskRevisionKind.Store, [wash], [], "lena"));
        var after = After(week, FirstRain with { Tasks = [.. FirstRain.Tasks.Skip(1)] });
        Assert.Empty(after.Week.Tasks.Single(task => task.Id == "wash").After);
        Assert.Equal(new TaskOrigin("first-rain", 1, Author: "lena"), after.TaskOrigins["wash"]);
        Assert.DoesNotContain("feature-wall.paint", after.TaskOrigins.Keys);
        // Nothing needs the paint any more, and it has not come.
        Assert.Empty(after.Week.Kits);
    }

    [Fact]
    public void What_was_dropped_in_the_week_comes_back_only_if_the_later_version_changes_it()
    {
        var week = Given(new TasksRevised("first-rain", 1, null, TaskRevisionKind.Store, [], ["feature-wall.refit"], "lena"));
        Assert.DoesNotContain("feature-wall.refit", After(week, FirstRain).TaskOrigins.Keys);
        Assert.Contains("feature-wall.refit",
            After(week, Changed(task => task.Id == "feature-wall.refit" ? task with { ClosesZoneMinutes = 30 } : task)).TaskOrigins.Keys);
    }

    [Fact]
    public void A_display_that_has_begun_stays_as_it_was_begun_and_that_is_said()
    {
        var week = Given(Published, new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 45)));
        var dropped = FirstRain with
        {
            Displays = [.. FirstRain.Displays.Skip(1)], Tasks = [.. FirstRain.Tasks.Where(task => task.Display != "feature-wall")],
            Kits = [],
        };
        var update = Taken(week, dropped);
        Assert.Equal(["“Painted wall” stays, because work on it has begun. The later version drops it."], update.Kept);
        Assert.Empty(update.Revision.Events.OfType<TasksRevised>().Single().Dropped);
        Assert.Equal(["“Painted wall” stays as it was begun. The later version builds it differently."],
            Taken(week, Changed(task => task.Id == "feature-wall.paint" ? task with { Stints = 3 } : task)).Kept);
        Assert.Empty(Taken(week, FirstRain).Kept);
    }

    [Fact]
    public void New_displays_come_with_their_tasks_and_kits_and_a_choice_of_the_store_stays()
    {
        var later = FirstRain with
        {
            Displays = [.. FirstRain.Displays, new DirectedDisplay("sign", "Sign", DisplayCommitment.Want) { Value = 5 }],
            Tasks = [.. FirstRain.Tasks, FirstRain.Tasks[0] with { Id = "sign.hang", Name = "Hang the sign", Display = "sign", Needs = [new("sign")] }],
            Kits = [.. FirstRain.Kits, new DirectedKit("sign", "Sign", [new DirectedLine("board", 1)])],
        };
        var week = Given(new DisplayChoiceSet("cycle.panel", DisplayChoice.LeaveOut));
        var update = Taken(week, later);
        Assert.Equal(["KitSet", "DisplaySet", "TasksRevised"], update.Revision.Events.Select(e => e.GetType().Name));
        var after = After(week, later);
        Assert.Equal(DisplayChoice.LeaveOut, after.DisplayChoices["cycle.panel"]);
        Assert.Null(after.Week.Kits[1].Eta);
    }

    private static Direction Changed(Func<WeekTask, WeekTask> change) =>
        FirstRain with { Tasks = [.. FirstRain.Tasks.Select(change)] };

    private static StoreWeek After(StoreWeek week, Direction later) =>
        Taken(week, later).Revision.Events.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);

    private static DirectionUpdate Taken(StoreWeek week, Direction later) => DirectionUpdate.Of(week, Crew,
        Scoping.Of(FirstRain, Harbour), Scoping.Of(later, Harbour), 2, MondayEvening.PlusHours(1), "head").Match(
        update => update,
        refusal => throw new InvalidOperationException($"{refusal.Sentence} {string.Join(' ', refusal.Because)}"),
        faults => throw new InvalidOperationException(string.Join('\n', faults.All)));
}
