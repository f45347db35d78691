using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>Monday's and Tuesday's nights of the example are open from 21:30 to 01:30; work is planned on Monday.</summary>
public sealed class TonightTests
{
    private static readonly PlanPublished BothNights = Published with
    {
        Plan = Worked with { Nights = [Worked.Nights[0], Worked.Nights[0] with { Night = "tuesday" }] },
    };

    [Theory]
    [InlineData(7, 12, 0, "monday")]
    [InlineData(8, 23, 0, "monday")]
    [InlineData(9, 2, 29, "monday")] // an hour after it has closed, reports are still written
    [InlineData(9, 2, 30, "tuesday")]
    [InlineData(12, 9, 0, "tuesday")] // after the last
    public void The_open_night_is_meant_or_the_next(int day, int hour, int minute, string night) =>
        Assert.Equal(night, Tonight.NightOf(Given(BothNights), Instant.FromUtc(2027, 3, day, hour, minute)));

    [Fact]
    public void A_night_without_work_is_passed_over() =>
        Assert.Equal("monday", Tonight.NightOf(Given(Published), Instant.FromUtc(2027, 3, 9, 12, 0)));

    [Fact]
    public void Nights_without_work_count_where_no_work_is_planned_and_none_does_without_a_plan()
    {
        var empty = Published with { Plan = Worked with { Nights = [] } };
        Assert.Equal("tuesday", Tonight.NightOf(Given(empty), Instant.FromUtc(2027, 3, 9, 12, 0)));
        Assert.Null(Tonight.NightOf(Given(), Instant.FromUtc(2027, 3, 9, 12, 0)));
    }
}
