using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>
/// Monday of the example: Ben paints from 21:45 to 22:15 (101) and to 22:45 (102), Asha cleans down from 23:00 to 23:15 (103). Both
/// leave at 23:30. It is 22:00.
/// </summary>
public sealed class LongerWorkTests
{
    [Fact]
    public void Half_an_hour_more_moves_what_waits_and_the_night_holds()
    {
        var longer = Longer(30);
        Assert.Equal((At(22, 15), At(22, 45), 45, 30, true),
            (longer.End, longer.NewEnd, longer.RemainingMinutes, longer.SpareMinutes, longer.Holds));
        Assert.Equal([((int?)102, At(22, 15), At(22, 45)), (103, At(23, 0), At(23, 15))],
            longer.Moves.Select(moved => (moved.Number, moved.Was, moved.From)));
        Assert.Empty(longer.Stays);
        Assert.Equal([102], longer.DropFirst);
    }

    /// <summary>The clean-down would end at 23:45, a quarter of an hour after Asha's shift.</summary>
    [Fact]
    public void Three_quarters_of_an_hour_more_keep_Asha_and_the_night_does_not_hold()
    {
        var longer = Longer(45);
        Assert.False(longer.Holds);
        var stay = Assert.Single(longer.Stays);
        Assert.Equal(("Asha Rowan", 103, At(23, 30), At(23, 45)), (stay.Person.Name, stay.Number, stay.ShiftEnds, stay.WorkEnds));
    }

    [Fact]
    public void Ten_minutes_more_for_a_piece_with_a_gap_behind_it_move_nothing()
    {
        var longer = Longer(10, number: 102);
        Assert.Equal((0, true, 30), (longer.Moves.Count, longer.Holds, longer.SpareMinutes));
    }

    /// <summary>Begun at 21:30, a quarter of an hour early: it ends at 22:00, so that 15 minutes more are as planned.</summary>
    [Fact]
    public void What_began_early_or_late_is_counted_from_its_start()
    {
        var early = new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 30));
        Assert.Equal((At(22, 0), At(22, 15), 0), Longer(15, early) is var longer ? (longer.End, longer.NewEnd, longer.Moves.Count) : default);
        var late = new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 58));
        // It ends at 22:28; a plan has steps of five minutes.
        Assert.Equal((At(22, 38), At(22, 40)), Longer(10, late) is var moved ? (moved.NewEnd, moved.Moves[0].From) : default);
    }

    [Fact]
    public void What_should_have_ended_ends_now_at_the_earliest()
    {
        var early = new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 0));
        Assert.Equal((At(22, 0), 10), Longer(10, early) is var longer ? (longer.End, longer.RemainingMinutes) : default);
    }

    private static LongerWork Longer(int minutes, WorkStarted? start = null, int number = 101)
    {
        var week = Given(start is null ? [Published] : [Published, start]);
        var sheet = NightSheets.Of(week, Crew, week.Week.Nights[0], NightMargins.Of(week, Crew, "monday"),
            Instant.FromUtc(2027, 3, 8, 22, 0));
        return LongerWork.Of(week, Crew, sheet, sheet.Pieces.Single(piece => piece.Number == number), minutes);
    }
}
