using NodaTime;
using SetWeek.Domain.Memos;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Memos;

public sealed class MemoTests
{
    private static readonly Instant Noon = Instant.FromUtc(2027, 3, 8, 12, 0);

    private static Memo ForAll => new() { Id = "m1", Direction = Given().Direction, By = "ada", At = Noon };

    private static MemoRead Read => new("m1", "wren", Noon);

    [Fact]
    public void A_memo_is_read_once_and_the_first_reading_stands()
    {
        Assert.Equal([Read], Given().Read(ForAll, "wren", Noon).AsT0);
        Assert.Empty(Given(Read).Read(ForAll, "lena", Noon + Duration.FromHours(1)).AsT0);
        Assert.Equal("wren", Given(Read, Read with { By = "lena" }).MemosRead["m1"].By);
    }

    [Fact]
    public void It_is_for_the_weeks_of_its_direction_and_stores_that_launch_after_it_was_sent()
    {
        var week = Given();
        Assert.True(ForAll.IsFor(week));
        Assert.True((ForAll with { Stores = [week.Week.Store.Id] }).IsFor(week));
        foreach (var other in new[]
        {
            ForAll with { Direction = "other" }, ForAll with { Stores = ["other"] },
            ForAll with { At = Noon + Duration.FromDays(30) },
        })
        {
            Assert.False(other.IsFor(week));
            Assert.True(week.Read(other, "wren", Noon).AsT1.Unknown);
        }
    }

    [Fact]
    public void A_week_shows_those_for_it_and_of_those_taken_back_the_ones_that_were_read()
    {
        var withdrawn = ForAll with { WithdrawnAt = Noon };
        Assert.True(ForAll.IsShownIn(Given()));
        Assert.True(ForAll.IsShownIn(Given(Read)));
        Assert.False(withdrawn.IsShownIn(Given()));
        Assert.True(withdrawn.IsShownIn(Given(Read)));
        Assert.False((ForAll with { Direction = "other" }).IsShownIn(Given(Read)));
    }

    [Fact]
    public void One_that_was_taken_back_is_not_read_any_more()
    {
        var withdrawn = ForAll with { WithdrawnAt = Noon };
        Assert.Equal("memo-withdrawn", Given().Read(withdrawn, "wren", Noon).AsT1.Code);
        Assert.Empty(Given(Read).Read(withdrawn, "wren", Noon).AsT0);
    }
}
