using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Goals;

public sealed class CostGoalTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Rules(new() { OvertimeAfterMinutes = 40 * 60, OvertimePercent = 150 });

    private static TinyWeek Ana(int rate, int already) =>
        Week.Person("ana", ana => ana with { RatePerHour = rate, MinutesAlready = already });

    private static TinyPlan OneNight(TinyWeek week, string to) => week.Plan.Shift("mon", "ana", "22:00", to);

    /// <summary>4 h at 12.00 are 48.00; the break of 20 min is unpaid: 3 h 40 are 44.00.</summary>
    [Fact]
    public void Breaks_are_unpaid()
    {
        Assert.Equal(4800, OneNight(Week, "02:00").Goal(GoalId.Cost));
        Assert.Equal(4400, Week.Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20").Goal(GoalId.Cost));
    }

    /// <summary>
    /// 46 h in a week at 20.00: 40 x 20 + 6 x 30 = 980.00 (29 USC 207); 40 h of them are worked, and paid, before this week.
    /// </summary>
    [Theory]
    [InlineData(40, "04:00", 18000)] // 6 h of overtime: 6 x 30
    [InlineData(38, "04:00", 16000)] // 2 x 20 + 4 x 30
    [InlineData(34, "04:00", 12000)] // exactly 40 h: 6 x 20
    public void Minutes_beyond_the_forty_hours_are_overtime(int hoursAlready, string to, long cost) =>
        Assert.Equal(cost, OneNight(Ana(2000, hoursAlready * 60), to).Goal(GoalId.Cost));

    /// <summary>The whole week of the same source in one plan: 46 h over six nights from nothing.</summary>
    [Fact]
    public void Forty_six_hours_at_twenty_cost_nine_hundred_and_eighty()
    {
        var week = Ana(2000, 0).With(week => week with
        {
            Nights = [.. Enumerable.Range(0, 6)
                .Select(day => new Night($"n{day}", new(2027, 3, 1 + day, 20, 0), new(2027, 3, 2 + day, 6, 0)))],
            Crew = [.. week.Crew.Select(member => member with { Available = [] })],
        });
        var plan = Enumerable.Range(0, 5).Aggregate(week.Plan, (plan, day) => plan.Shift($"n{day}", "ana", "20:00", "04:00"));
        Assert.Equal(98000, plan.Shift("n5", "ana", "20:00", "02:00").Goal(GoalId.Cost));
    }

    /// <summary>
    /// Already past 40 h: all of it is overtime, and what was before is not counted again. 4 h x 18.00 = 72.00.
    /// </summary>
    [Fact]
    public void Somebody_already_beyond_works_overtime_only() =>
        Assert.Equal(7200, OneNight(Ana(1200, 45 * 60), "02:00").Goal(GoalId.Cost));

    [Fact]
    public void Without_a_limit_there_is_no_overtime() =>
        Assert.Equal(4800, OneNight(Ana(1200, 60 * 60).Rules(new()), "02:00").Goal(GoalId.Cost));

    /// <summary>
    /// Two people, 5 minutes each at 10.01 an hour: 0.834166... each, 1.668333... together, so 167. Rounded up each it would
    /// be 168; rounded down, 166.
    /// </summary>
    [Fact]
    public void It_is_rounded_up_once_at_the_end() =>
        Assert.Equal(167, Ana(1001, 0).Person("bo", bo => bo with { RatePerHour = 1001 }).Plan
        .Shift("mon", "ana", "22:00", "22:05").Shift("mon", "bo", "22:00", "22:05").Goal(GoalId.Cost));

    /// <summary>
    /// The dearest that the types allow: 8 h at 2,147,483,647 and ten times that in overtime. 2147483647 x 8 x 10.
    /// </summary>
    [Fact]
    public void No_rate_overflows() => Assert.Equal(171_798_691_760, OneNight(Ana(int.MaxValue, 40 * 60)
        .Rules(new() { OvertimeAfterMinutes = 40 * 60, OvertimePercent = 1000 }), "06:00").Goal(GoalId.Cost));
}
