using NodaTime;
using SetWeek.Model.Time;
using SetWeek.Service.Pages.Charts;
using static SetWeek.Service.Tests.Pages.Charts.ChartWeek;

namespace SetWeek.Service.Tests.Pages.Charts;

/// <summary>The chart of a night as data: complete, true to time, and without overlaps.</summary>
public sealed class NightLayoutTests
{
    private static readonly NightLayout Layout = NightLayout.Of(Spring, Planned, Saturday);

    [Fact]
    public void Each_piece_of_work_is_once_with_each_of_its_people_and_once_in_its_zone()
    {
        var expected = Saturday.Work.SelectMany(work => work.People.Select(person => person.Person switch
            {
                "p1" => "Asha Rowan",
                "p2" => "Ben Marsh",
                _ => "Cleo Strand",
            }).DefaultIfEmpty("No people needed").Select(name => (name, work))).ToHashSet();
        var shown = Layout.ByPerson.SelectMany(lane => lane.Bars.Select(bar => (lane.Name, bar.Work))).ToList();
        Assert.Equal(expected.Count, shown.Count);
        Assert.True(expected.SetEquals(shown));
        Assert.Equal(["Asha Rowan", "Ben Marsh", "Cleo Strand", "No people needed"], Layout.ByPerson.Select(lane => lane.Name));

        var zones = Layout.ByZone.SelectMany(lane => lane.Bars.Select(bar => (lane.Name, bar.Work))).ToList();
        Assert.Equal(Saturday.Work.Count, zones.Count);
        Assert.Equal(["Show window", "Back wall", "Stockroom"], Layout.ByZone.Select(lane => lane.Name));
        Assert.Equal(3, Layout.ByZone[0].Bars.Count); // two tasks and the clean-down
    }

    [Fact]
    public void Nothing_overlaps_in_a_row_and_no_row_is_wasted()
    {
        foreach (var lane in Layout.ByPerson.Concat(Layout.ByZone))
        {
            var pieces = lane.Bars.Select(bar => (bar.Row, bar.Span)).Concat(lane.Rests.Select(rest => (rest.Row, rest.Span)))
                .ToList();
            foreach (var (index, piece) in pieces.Index())
                Assert.DoesNotContain(pieces.Skip(index + 1), other => other.Row == piece.Row && other.Span.Overlaps(piece.Span));
            Assert.Equal(lane.Rows, pieces.Select(piece => piece.Row + 1).DefaultIfEmpty(1).Max());
        }
        Assert.Equal(2, Layout.ByZone[0].Rows); // the two tasks in the window
    }

    /// <summary>NodaTime says how much time passes between two instants.</summary>
    [Fact]
    public void Positions_are_elapsed_time_also_where_clocks_change()
    {
        var opens = At(27, 22, 0).ToInstant();
        foreach (var bar in Layout.ByPerson.Concat(Layout.ByZone).SelectMany(lane => lane.Bars))
        {
            Assert.Equal((bar.Work.From.ToInstant() - opens).TotalMinutes, bar.Span.From);
            Assert.Equal((bar.Work.To.ToInstant() - opens).TotalMinutes, bar.Span.To);
        }
        Assert.Equal(new Span(0, 7 * 60), Layout.Window);
        Assert.Equal(new Span(0, 7 * 60), Layout.Range);
        Assert.Equal(60, Layout.ByZone.Single(lane => lane.Name == "Back wall").Bars.Single().Span.Minutes);
        Assert.Equal(new Span(240, 270), Layout.ByPerson[0].Break);
        Assert.Equal(new Span(0, 420), Layout.ByPerson[0].Shift);
    }

    [Fact]
    public void Hours_are_those_of_the_store_and_none_is_invented() => Assert.Equal(
        [(0, "22:00 (+00:00)"), (60, "23:00 (+00:00)"), (120, "00:00 (+00:00)"), (180, "02:00 (+01:00)"), (240, "03:00 (+01:00)"),
            (300, "04:00 (+01:00)"), (360, "05:00 (+01:00)"), (420, "06:00 (+01:00)")],
        Layout.Hours.Select(hour => (hour.Minute, hour.Text)));

    /// <summary>Painted until 01:30 UTC: closed for half an hour, dry after 20 hours, which is 22:30 in summer time.</summary>
    [Fact]
    public void Drying_lasts_through_the_day_into_the_next_night()
    {
        Assert.Equal([(new Span(210, 420), false), (new Span(210, 240), true)], Rests(Layout).OrderBy(rest => rest.Item2));
        var next = NightLayout.Of(Spring, Planned, Sunday);
        Assert.Equal((new Span(0, 30), false), Assert.Single(Rests(next)));
        Assert.Equal("dries until 22:30", next.ByZone.Single().Rests.Single().Text);

        static IEnumerable<(Span, bool)> Rests(NightLayout layout) => layout.ByZone.Single(lane => lane.Name == "Back wall").Rests
            .Select(rest => (rest.Span, rest.IsClosed));
    }

    [Fact]
    public void Bans_and_kits_of_the_night_are_marked_and_the_keyholder_is_known()
    {
        Assert.Equal(new ChartSpan(new Span(120, 420), "no noisy work from 00:00"), Assert.Single(Layout.Bans));
        Assert.Equal(new ChartMark(90, "Props"), Assert.Single(Layout.Kits)); // the other came before
        Assert.Equal("Asha Rowan", Assert.Single(Layout.ByPerson, lane => lane.HasKeys).Name);
    }

    [Fact]
    public void Work_outside_the_window_and_a_dropped_night_are_shown_too()
    {
        var summer = Offset.FromHours(1);
        var late = Sunday with { Work = [Piece("forms", At(29, 1, 30, summer), At(29, 3, 0, summer), "p1")] };
        Assert.Equal(new Span(0, 300), NightLayout.Of(Spring, [late], late).Range);
        var dropped = NightLayout.Of(Spring with { Nights = [.. Spring.Nights.Take(1)] }, Planned, Sunday);
        Assert.Equal(new Span(0, 180), dropped.Range);
        Assert.Equal("sun", dropped.Name);
    }

    /// <summary>An interval graph needs as many colours as intervals lie over one point (Golumbic 1980; from memory).</summary>
    [Fact]
    public void A_packing_has_as_many_rows_as_spans_lie_over_one_minute()
    {
        var random = new Random(7);
        for (var trial = 0; trial < 200; trial++)
        {
            var spans = Enumerable.Range(0, random.Next(1, 40)).Select(_ => random.Next(400))
                .Select(from => new Span(from, from + random.Next(5, 120))).OrderBy(span => span.From).ToList();
            var most = Enumerable.Range(0, 520).Max(minute => spans.Count(span => span.From <= minute && minute < span.To));
            Assert.Equal(most, RowPacking.Of(spans).Max() + 1);
        }
    }
}
