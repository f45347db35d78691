using NodaTime;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>
/// The wall is painted in two stints, the last until 22:45, and the refit waits 240 minutes for it to dry. How moisture lengthens
/// that is common practice, no source.
/// </summary>
public sealed class SheetDryingTests
{
    private static readonly WorkFinished First = new("r1", "feature-wall.paint", 1, "monday", At(22, 15), Air: new(19, 80)),
        Last = new("r2", "feature-wall.paint", 2, "monday", At(22, 45), Air: new(19, 55));

    /// <summary>At 55 %, 240 minutes become 360, from 22:45 to 04:45. At most 50 % take 240, to 02:45.</summary>
    [Theory]
    [InlineData(19, 55, 150, 4), InlineData(23, 50, 100, 2), InlineData(23, 85, 200, 6)]
    public void Paint_is_dry_by_estimate_after_its_last_stint_in_the_air_that_was_read_then(
        int degrees, int moisture, int percent, int hour)
    {
        var drying = Assert.Single(PieceOf(2, First, Last with { Air = new(degrees, moisture) }).Drying);
        Assert.Equal((240, percent, new LocalDateTime(2027, 3, 9, hour, 45), moisture),
            (drying.PlannedMinutes, drying.Percent!.Value, drying.DryFrom!.Value.LocalDateTime, drying.MoisturePercent));
    }

    [Theory]
    [InlineData(19, 86), InlineData(9, 50)]
    public void Outside_the_limits_there_is_no_estimate(int degrees, int moisture)
    {
        var drying = Assert.Single(PieceOf(2, First, Last with { Air = new(degrees, moisture) }).Drying);
        Assert.Null(drying.DryFrom);
        Assert.Null(drying.Percent);
    }

    [Fact]
    public void Without_a_reading_or_before_the_last_stint_nothing_is_estimated()
    {
        Assert.Empty(PieceOf(1, First).Drying);
        Assert.Empty(PieceOf(2, First, Last with { Air = null }).Drying);
        Assert.Empty(PieceOf(2, First, Last, new WorkReopened("r3", "feature-wall.paint", 2, At(23, 0))).Drying);
    }

    /// <summary>Somebody reads the air at 23:50, with the checks that nobody has signed: the estimate stays.</summary>
    [Fact]
    public void A_reading_after_the_finish_changes_no_estimate()
    {
        var late = Last with
        {
            Report = "r3", At = At(23, 50), Checks = [new("No bare spot.", CheckResult.Good)], Air = new(23, 85),
        };
        Assert.Equal(150, Assert.Single(PieceOf(2, First, Last, late).Drying).Percent);
        Assert.Empty(PieceOf(2, First, Last with { Air = null }, late).Drying);
    }

    private static SheetPiece PieceOf(int stint, params IWeekEvent[] events)
    {
        var week = events.Prepend(Published).Prepend(Opened with
        {
            Week = Opened.Week with
            {
                Tasks = [.. Opened.Week.Tasks.Select(task => task.Id == "feature-wall.paint" ? task with { Traits = ["paint"] } : task)],
            },
        }).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
        return NightSheets.Of(week, Crew, week.Week.Nights[0], NightMargins.Of(week, Crew, "monday"), Instant.FromUtc(2027, 3, 8, 23, 0))
            .Pieces.Single(piece => piece.Stint == stint);
    }
}
