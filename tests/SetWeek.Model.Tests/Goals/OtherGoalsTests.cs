using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class OtherGoalsTests
{
    private static readonly TinyWeek Week = TinyWeek.New.CleanDown("wall", 10)
        .Task("mask", 60).Task("paint", 60).Task("sign", 30, task => task with { Zone = "floor" });

    [Fact]
    public void An_empty_plan_has_value_zero() =>
        Assert.Equal((0, 0, 0, 0), (Goal(GoalId.Finish), Goal(GoalId.Nights), Goal(GoalId.Shifts), Goal(GoalId.Moves)));

    private static long Goal(GoalId id) => Week.Plan.Goal(id);

    /// <summary>The first night opens on Monday at 22:00. The last work ends on Tuesday at 23:30: 25 h 30 min.</summary>
    [Fact]
    public void Finish_is_the_elapsed_time_from_the_first_opening() =>
        Assert.Equal(25 * 60 + 30, Week.Plan.Work("tue", "sign", "23:00", "23:30", "ana")
            .Work("mon", "mask", "22:00", "23:00", "ana").Goal(GoalId.Finish));

    /// <summary>
    /// Europe/London, 27 to 28 March 2027: the clock skips 01:00 to 02:00 (tz database), so 22:00 to 05:00 are 6 h.
    /// </summary>
    [Fact]
    public void Finish_does_not_count_an_hour_that_the_clock_skips() => Assert.Equal(6 * 60, Week.With(week => week with
    {
        Launch = TinyWeek.Local("2027-04-02T09:00"),
        Nights = [new("mon", TinyWeek.Local("2027-03-27T22:00"), TinyWeek.Local("2027-03-28T07:00"))],
        Crew = [.. week.Crew.Select(member => member with { Available = [] })],
    }).Plan.Work("mon", "mask", "04:00", "05:00", "ana").Goal(GoalId.Finish));

    [Fact]
    public void Nights_is_the_position_of_the_last_night_with_work() =>
        Assert.Equal(2, Week.Plan.Work("tue", "sign", "23:00", "23:30", "ana").Shift("wed", "ana", "22:00", "23:00")
            .Goal(GoalId.Nights));

    [Fact]
    public void Shifts_is_the_number_of_shifts() => Assert.Equal(3,
        Week.Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "22:00", "23:00")
            .Shift("tue", "ana", "22:00", "23:00").Goal(GoalId.Shifts));

    /// <summary>
    /// Ana goes from the wall to the floor (1) and back for the wall's clean-down (2). That she starts the next night on the
    /// floor is no move. Bo stays at the wall. The work is listed out of order.
    /// </summary>
    [Fact]
    public void Moves_is_the_number_of_zone_changes_within_a_night() =>
        Assert.Equal(2, Week.Task("price", 30, task => task with { Zone = "floor" }).Plan
        .CleanDown("mon", "wall", "02:00", "02:10", "ana").Work("mon", "sign", "23:00", "23:30", "ana")
            .Work("mon", "mask", "22:00", "23:00", "ana")
        .Work("mon", "paint", "22:00", "23:00", "bo").Work("tue", "price", "22:00", "22:30", "ana").Goal(GoalId.Moves));

    /// <summary>
    /// Ana has 4 h paid, and Bo has 3 h 40 min after his break. Cy is available without a shift and has 0. Di is never
    /// available and does not count.
    /// </summary>
    [Fact]
    public void Uneven_is_the_range_of_paid_minutes_among_available_people()
    {
        var plan = Week.Person("di", di => di with { Available = [] }).Plan
            .Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "22:00", "02:00", "00:00", "00:20");
        Assert.Equal(240, plan.Goal(GoalId.Uneven));
        Assert.Equal(20, plan.Shift("mon", "cy", "22:00", "02:00", "00:00", "00:20").Goal(GoalId.Uneven));
    }
}
