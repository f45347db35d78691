using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Weeks;

public sealed class PieceNumberingTests
{
    private static readonly string[] Nights = ["monday", "tuesday"];

    [Fact]
    public void The_first_plan_numbers_each_night_by_start() =>
        Assert.Equal([(101, "a"), (102, "b"), (103, "monday wall"), (201, "c")],
            Numbers(PieceNumbering.Next(PieceNumbers.None, Nights,
                Plan(("monday", "b", 22), ("monday", "a", 21), ("tuesday", "c", 21), ("monday", null, 23)))));

    /// <summary>
    /// b is new, c moves to Monday, d is dropped and comes back, and a keeps its number although it now starts last. The numbers
    /// that c and d had on Tuesday are not used again.
    /// </summary>
    [Fact]
    public void A_piece_keeps_its_number_and_a_new_one_gets_a_number_that_was_never_used()
    {
        var first = PieceNumbering.Next(PieceNumbers.None, Nights,
            Plan(("monday", "a", 21), ("tuesday", "c", 21), ("tuesday", "d", 22)));
        var second = PieceNumbering.Next(first, Nights, Plan(("monday", "c", 21), ("monday", "b", 22), ("monday", "a", 23)));
        Assert.Equal([(102, "c"), (103, "b"), (101, "a")], Numbers(second));
        var third = PieceNumbering.Next(second, Nights, Plan(("monday", "a", 21), ("tuesday", "d", 22), ("tuesday", "c", 23)));
        Assert.Equal([(101, "a"), (203, "d"), (204, "c")], Numbers(third));
    }

    [Fact]
    public void A_night_keeps_its_number_when_an_earlier_night_is_added_or_dropped()
    {
        var first = PieceNumbering.Next(PieceNumbers.None, Nights, Plan(("monday", "a", 21), ("tuesday", "c", 21)));
        var added = PieceNumbering.Next(first, ["sunday", .. Nights], Plan(("sunday", "b", 21), ("tuesday", "c", 21)));
        Assert.Equal([(301, "b"), (201, "c")], Numbers(added));
        Assert.Equal([(201, "c"), (202, "d")],
            Numbers(PieceNumbering.Next(added, ["tuesday"], Plan(("tuesday", "c", 21), ("tuesday", "d", 22)))));
    }

    [Fact]
    public void Every_number_of_a_large_week_is_different()
    {
        var work = from night in Enumerable.Range(1, 99)
                   from order in Enumerable.Range(1, 120)
                   select ($"n{night}", (string?)$"t{night}.{order}", 21);
        var pieces = PieceNumbering.Next(PieceNumbers.None, [], Plan([.. work])).Pieces;
        Assert.Equal(99 * 120, pieces.Select(piece => piece.Number).Distinct().Count());
        Assert.Contains(10_100, pieces.Select(piece => piece.Number));
    }

    /// <summary>Events of before there were numbers: the state has the issue and the numbers that they would have had.</summary>
    [Fact]
    public void A_plan_that_was_published_without_numbers_gets_them()
    {
        var week = Given(Published, Published with { PlanId = "plan-2" });
        Assert.Equal(new PlanIssue(2, "plan-2", null, null), week.Published!.Issue);
        Assert.Equal([new PlanIssue(1, "plan-1", null, null)], week.Published.Earlier);
        Assert.Equal([101, 102, 103], week.Published.Pieces.Pieces.Select(piece => piece.Number));
    }

    [Fact]
    public void Each_published_plan_has_the_next_issue_and_a_retraction_changes_no_number()
    {
        var published = Given(Published).Publish(Candidate, overtaken: false, [], [], Crew).AsT0;
        Assert.Equal(2, published.Issue);
        var started = new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 45));
        var week = Given(Published, published, started, new ReportRetracted("r2", "r1", At(21, 50)));
        Assert.Equal((2, published.Pieces), (week.Published!.Issue.Number, week.Published.Pieces));
        Assert.Equal(3, week.NextIssue);
    }

    private static IEnumerable<(int, string)> Numbers(PieceNumbers numbers) =>
        numbers.Pieces.Select(piece => (piece.Number, piece.Task ?? $"{piece.Night} {piece.CleanDown}"));

    /// <param name="work">Night, task (null: the clean-down of the wall) and the hour in which it starts.</param>
    private static Plan Plan(params (string Night, string? Task, int Hour)[] work) => new()
    {
        Week = "first-rain.harbour-street", Status = PlanStatus.Feasible,
        Nights = [.. work.GroupBy(piece => piece.Night).Select(night => new PlannedNight
        {
            Night = night.Key,
            Work = [.. night.Select(piece => new PlannedWork
            {
                Task = piece.Task, Stint = piece.Task is null ? null : 1, Mode = piece.Task is null ? null : 0,
                CleanDown = piece.Task is null ? "wall" : null, From = At(piece.Hour, 0), To = At(piece.Hour, 30),
            })],
        })],
    };
}
