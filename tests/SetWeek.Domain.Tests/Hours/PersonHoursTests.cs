using NodaTime;
using SetWeek.Domain.Hours;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Hours;

/// <summary>The hours of the example's Monday: both have a shift from 21:30 to 23:30, Ben paints, Asha cleans down.</summary>
public sealed class PersonHoursTests
{
    private const string Paint = "feature-wall.paint";

    [Fact]
    public void Planned_minutes_are_the_shift_without_its_break()
    {
        var plan = Worked with
        {
            Nights = [Worked.Nights[0] with
            {
                Shifts = [new PlannedShift("p1", At(21, 30), At(23, 30), new PlannedBreak(At(22, 0), At(22, 20)))],
            }],
        };
        Assert.Equal([new PersonHours("monday", "p1", plan.Nights[0].Shifts[0], null)], PersonHours.Of(Given(), plan));
        Assert.Equal(120 - 20, PersonHours.Of(Given(), plan)[0].PlannedMinutes);
    }

    [Fact]
    public void Without_reports_nothing_is_said_of_the_time_worked() =>
        Assert.Equal([("p1", 120, null), ("p2", 120, (int?)null)], HoursAfter());

    [Fact]
    public void Reported_work_counts_for_the_planned_people_from_its_start_to_its_finish() => Assert.Equal(
        [("p1", 120, null), ("p2", 120, (int?)30)], HoursAfter(Started("r1", 1, At(21, 50)), Finished("r2", 1, At(22, 20))));

    [Fact]
    public void A_pause_and_a_block_do_not_count() => Assert.Equal((int?)(10 + 5 + 20), WorkedBy("p2",
        Started("r1", 1, At(21, 50)), new WorkPaused("r2", Paint, 1, At(22, 0)),
        new WorkResumed("r3", Paint, 1, "monday", At(22, 10)),
        new WorkBlocked("r4", Paint, 1, At(22, 15), "kit-short", null, null),
        new WorkResumed("r5", Paint, 1, "monday", At(22, 40)), Finished("r6", 1, At(23, 0))));

    [Fact]
    public void What_a_person_does_in_parallel_counts_once() => Assert.Equal(50, WorkedBy("p2",
        Started("r1", 1, At(21, 50)), Started("r2", 2, At(22, 0)), Finished("r3", 1, At(22, 30)), Finished("r4", 2, At(22, 40))));

    [Fact]
    public void A_report_that_names_others_counts_for_them()
    {
        var hours = HoursAfter(Started("r1", 1, At(21, 50)), Finished("r2", 1, At(22, 20)) with { People = ["p1", "p3"] });
        Assert.Equal([("p1", 120, 30), ("p2", 120, null), ("p3", 0, (int?)30)], hours);
    }

    [Fact]
    public void Work_that_runs_or_whose_start_nobody_reported_does_not_count()
    {
        Assert.Null(WorkedBy("p2", Started("r1", 1, At(21, 50))));
        Assert.Null(WorkedBy("p2", Finished("r2", 1, At(22, 20))));
    }

    [Fact]
    public void Work_that_is_done_again_counts_twice() => Assert.Equal(30 + 15, WorkedBy("p2",
        Started("r1", 1, At(21, 50)), Finished("r2", 1, At(22, 20)), new WorkReopened("r3", Paint, 1, At(22, 25)),
        Started("r4", 1, At(22, 30)), Finished("r5", 1, At(22, 45))));

    [Fact]
    public void A_retracted_finish_takes_its_time_back() => Assert.Null(WorkedBy("p2",
        Started("r1", 1, At(21, 50)), Finished("r2", 1, At(22, 20)),
        new ReportRetracted("r3", "r2", At(22, 30))));

    /// <summary>The night closes at 01:30. Work that goes on after that is still of that night.</summary>
    [Fact]
    public void Work_around_a_night_belongs_to_the_nearest_one()
    {
        Assert.Equal("monday", NightOf(At(21, 20)));
        Assert.Equal("monday", NightOf(At(22, 0).PlusHours(4)));
        Assert.Equal("tuesday", NightOf(At(21, 0).PlusHours(24)));

        static string NightOf(OffsetDateTime start) => PersonHours.Of(
            Given(Published, Started("r1", 1, start), Finished("r2", 1, start.PlusMinutes(10))), Worked)
            .Single(hours => hours.WorkedMinutes is not null).Night;
    }

    [Fact]
    public void A_clean_down_counts_for_its_people() => Assert.Equal(20, WorkedBy("p1",
        new CleanDownStarted("r1", "wall", "monday", At(23, 0)), new CleanDownFinished("r2", "wall", "monday", At(23, 20))));

    private static WorkStarted Started(string report, int stint, OffsetDateTime at) => new(report, Paint, stint, "monday", at);

    private static WorkFinished Finished(string report, int stint, OffsetDateTime at) => new(report, Paint, stint, "monday", at);

    private static int? WorkedBy(string person, params IWeekEvent[] reports) =>
        HoursAfter(reports).Single(hours => hours.Person == person).Worked;

    private static IEnumerable<(string Person, int Planned, int? Worked)> HoursAfter(params IWeekEvent[] reports) =>
        PersonHours.Of(Given([Published, .. reports]), Worked)
            .Select(hours => (hours.Person, hours.PlannedMinutes, hours.WorkedMinutes));
}
