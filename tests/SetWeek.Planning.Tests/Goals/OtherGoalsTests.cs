using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Tests.Goals;

public sealed class OtherGoalsTests
{
    private static readonly TinyWeek Week = TinyWeek.New.CleanDown("wall", 10)
        .Task("mask", 60).Task("paint", 60).Task("sign", 30, task => task with { Zone = "floor" });

    [Fact]
    public void An_empty_plan_finishes_at_once() =>
        Assert.Equal((0, 0, 0, 0), (Goal(GoalId.Finish), Goal(GoalId.Nights), Goal(GoalId.Shifts), Goal(GoalId.Moves)));

    private static long Goal(GoalId id) => Week.Plan.Goal(id);

    /// <summary>The first night opens Monday 22:00; the last work ends Tuesday 23:30: 25 h 30.</summary>
    [Fact]
    public void Finish_is_elapsed_time_from_the_first_opens() =>
        Assert.Equal(25 * 60 + 30, Week.Plan.Work("tue", "sign", "23:00", "23:30", "ana")
            .Work("mon", "mask", "22:00", "23:00", "ana").Goal(GoalId.Finish));

    /// <summary>
    /// Europe/London, 27 to 28 March 2027: the clock skips 01:00 to 02:00 (tz database), so 22:00 to 05:00 are 6 h.
    /// </summary>
    [Fact]
    public void Finish_leaves_out_an_hour_that_the_clock_skips() => Assert.Equal(6 * 60, Week.With(week => week with
    {
        Launch = TinyWeek.Local("2027-04-02T09:00"),
        Nights = [new("mon", TinyWeek.Local("2027-03-27T22:00"), TinyWeek.Local("2027-03-28T07:00"))],
        Crew = [.. week.Crew.Select(member => member with { Available = [] })],
    }).Plan.Work("mon", "mask", "04:00", "05:00", "ana").Goal(GoalId.Finish));

    [Fact]
    public void Nights_is_the_position_of_the_last_with_work() =>
        Assert.Equal(2, Week.Plan.Work("tue", "sign", "23:00", "23:30", "ana").Shift("wed", "ana", "22:00", "23:00")
            .Goal(GoalId.Nights));

    [Fact]
    public void Shifts_are_person_nights() => Assert.Equal(3,
        Week.Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "22:00", "23:00")
            .Shift("tue", "ana", "22:00", "23:00").Goal(GoalId.Shifts));

    /// <summary>
    /// Ana: wall, floor (1), wall's clean-down (2); the next night she starts on the floor, which is no move. Bo stays at the
    /// wall. The work is listed out of order.
    /// </summary>
    [Fact]
    public void Moves_are_changes_of_zone_within_a_night() =>
        Assert.Equal(2, Week.Task("price", 30, task => task with { Zone = "floor" }).Plan
        .CleanDown("mon", "wall", "02:00", "02:10", "ana").Work("mon", "sign", "23:00", "23:30", "ana")
            .Work("mon", "mask", "22:00", "23:00", "ana")
        .Work("mon", "paint", "22:00", "23:00", "bo").Work("tue", "price", "22:00", "22:30", "ana").Goal(GoalId.Moves));

    /// <summary>
    /// Ana has 4 h paid, Bo 3 h 40 after his break; Cy, free but not called, has 0; Di is never free and does not count.
    /// </summary>
    [Fact]
    public void Uneven_is_the_most_less_the_least_of_those_who_could_work()
    {
        var plan = Week.Person("di", di => di with { Available = [] }).Plan
            .Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "22:00", "02:00", "00:00", "00:20");
        Assert.Equal(240, plan.Goal(GoalId.Uneven));
        Assert.Equal(20, plan.Shift("mon", "cy", "22:00", "02:00", "00:00", "00:20").Goal(GoalId.Uneven));
    }
}
