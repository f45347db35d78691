using NodaTime;
using SetWeek.Domain.Figures;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Figures;

/// <summary>
/// The figures of the example, counted by hand. The wall has two tasks (one of two stints), the panel one. The published plan
/// works on the wall alone.
/// </summary>
public sealed class WeekFiguresTests
{
    private static readonly Instant Sunday = Instant.FromUtc(2027, 3, 7, 12, 0);

    [Fact]
    public void Before_a_plan_all_displays_count_and_none_is_done()
    {
        var figures = WeekFigures.Of(Given());
        Assert.Equal((WeekStage.Unplanned, null), (figures.Stage, figures.PublishedPlan));
        Assert.Equal((2, 0, 3, 0), (figures.Displays, figures.DisplaysDone, figures.Tasks, figures.TasksDone));
        Assert.Equal((1, 0, null), (figures.KitsAwaited, figures.KitsIncomplete, figures.LastReport));
    }

    [Fact]
    public void With_a_plan_the_displays_that_it_works_on_count()
    {
        var figures = WeekFigures.Of(Given(Published));
        Assert.Equal((WeekStage.Published, "plan-1"), (figures.Stage, figures.PublishedPlan));
        Assert.Equal((1, 2), (figures.Displays, figures.Tasks));
    }

    [Fact]
    public void A_task_is_done_with_its_last_stint_and_a_display_with_its_last_task()
    {
        IWeekEvent[] events =
        [
            Published,
            Finished("r1", "feature-wall.paint", 1),
            Finished("r2", "feature-wall.paint", 2),
            Finished("r3", "feature-wall.refit", 1),
        ];
        var counted = Enumerable.Range(1, 4).Select(n => WeekFigures.Of(Given(events[..n])))
            .Select(figures => (figures.TasksDone, figures.DisplaysDone, figures.Stage));
        Assert.Equal([(0, 0, WeekStage.Published), (0, 0, WeekStage.Begun), (1, 0, WeekStage.Begun), (2, 1, WeekStage.Done)],
            counted);
    }

    [Fact]
    public void Work_outside_the_plan_counts_once_it_is_reported()
    {
        var figures = WeekFigures.Of(Given(Published, new WorkStarted("r1", "cycle.panel.lean", 1, "monday", At(22, 0))));
        Assert.Equal((2, 3, 1), (figures.Displays, figures.Tasks, figures.Running));
    }

    [Fact]
    public void Blocks_short_kits_and_the_last_report_are_counted()
    {
        var figures = WeekFigures.Of(Given(Published, new KitArrived("r1", "paint", At(12, 0)),
            new KitCounted("paint", At(12, 10), [new CountedLine("tin", 1, 0)]),
            new WorkBlocked("r2", "feature-wall.paint", 1, At(22, 5), "kit-short", null, null)));
        Assert.Equal((1, 0, 1), (figures.Blocked, figures.KitsAwaited, figures.KitsIncomplete));
        Assert.Equal(Instant.FromUtc(2027, 3, 8, 22, 5), figures.LastReport);
    }

    [Fact]
    public void The_outlook_counts_the_nights_that_are_left_and_the_age_of_the_figures()
    {
        var figures = WeekFigures.Of(Given(Published, PaintArrived, PaintCounted, Finished("r1", "feature-wall.paint", 1)));
        var outlook = WeekOutlook.Of(figures, Instant.FromUtc(2027, 3, 9, 2, 0)); // Monday night has closed at 01:30
        Assert.Equal((1, 210), (outlook.NightsLeft, outlook.MinutesSinceReport)); // reported at 22:30
        Assert.False(outlook.AtRisk);
    }

    [Fact]
    public void A_week_without_a_plan_is_at_risk_from_two_days_before_its_first_night()
    {
        var figures = WeekFigures.Of(Given());
        Assert.Empty(WeekOutlook.Of(figures, Sunday - Duration.FromDays(1)).Because);
        Assert.Equal(["No plan is published, and the first night opens Mon 8 Mar, 21:30."],
            WeekOutlook.Of(figures, Sunday).Because);
    }

    [Fact]
    public void After_the_last_night_and_after_the_launch_the_missing_displays_are_named()
    {
        var figures = WeekFigures.Of(Given(Published, PaintArrived, PaintCounted));
        Assert.Equal(["No night is left before the launch, and 1 display is not done."],
            WeekOutlook.Of(figures, Instant.FromUtc(2027, 3, 10, 8, 0)).Because);
        Assert.Equal(["The launch was Sat 13 Mar, 09:00, and 1 display is not done."],
            WeekOutlook.Of(figures, Instant.FromUtc(2027, 3, 13, 9, 0)).Because);
    }

    [Fact]
    public void A_week_that_is_done_is_never_at_risk()
    {
        var figures = WeekFigures.Of(Given(Published, Finished("r1", "feature-wall.paint", 1),
            Finished("r2", "feature-wall.paint", 2), Finished("r3", "feature-wall.refit", 1)));
        Assert.Empty(WeekOutlook.Of(figures, Instant.FromUtc(2027, 3, 20, 9, 0)).Because);
    }

    private static readonly KitArrived PaintArrived = new("r0", "paint", At(11, 0));

    private static readonly KitCounted PaintCounted = new("paint", At(11, 10), [new CountedLine("tin", 3, 0)]);

    private static WorkFinished Finished(string report, string task, int stint) =>
        new(report, task, stint, "monday", At(22, 30));
}
