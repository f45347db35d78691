using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Nights;

/// <summary>Who is in the store, from the reports of a night.</summary>
public sealed class NightRecordTests
{
    private static readonly IFloorReport[] Reports =
    [
        new NightOpened("r1", "monday", At(21, 20), "p1", ["p1"], "p1", ["exits", "first-aid"]),
        new PersonCame("r2", "monday", "p2", At(21, 40)),
        new PersonLeft("r3", "monday", "p2", At(22, 10)),
        new PersonCame("r4", "monday", "p2", At(22, 30)),
        new NightClosed("r5", "monday", At(23, 40), "p1", ["p1", "p2"], [], [], [], []),
    ];

    /// <summary>In each of the 120 orders in which five reports can arrive.</summary>
    [Fact]
    public void The_order_of_arrival_has_no_effect()
    {
        var expected = Words(Given(Reports));
        Assert.Equal("21:20 23:40 | p1 out 23:40, p2 out 23:40", expected);
        Assert.Equal(120, Permutations(Reports).Count());
        Assert.All(Permutations(Reports), order => Assert.Equal(expected, Words(Given([.. order]))));
    }

    [Theory]
    [InlineData(1, "p1 in 21:20"), InlineData(2, "p1 in 21:20, p2 in 21:40"), InlineData(3, "p1 in 21:20, p2 out 22:10")]
    [InlineData(4, "p1 in 21:20, p2 in 22:30"), InlineData(5, "p1 out 23:40, p2 out 23:40")]
    public void Somebody_is_where_the_last_report_says(int reports, string people) =>
        Assert.EndsWith($"| {people}", Words(Given([.. Reports.Take(reports)])));

    [Fact]
    public void A_report_that_is_taken_back_was_never_made()
    {
        var back = new ReportRetracted("r9", "r4", At(22, 40));
        Assert.EndsWith("p2 out 22:10", Words(Given([.. Reports.Take(4), back])));
        Assert.EndsWith("p2 out 22:10", Words(Given([back, .. Reports.Take(4)])));
        Assert.Null(NightRecord.Of(Given([.. Reports.Take(1), new ReportRetracted("r9", "r1", At(22, 40))]), "monday").Opened);
    }

    [Fact]
    public void Each_night_has_its_own_record()
    {
        var week = Given(Reports);
        Assert.Equal(" | ", Words(week, "tuesday"));
        Assert.Equal(["p1"], NightRecord.Of(Given([.. Reports.Take(3)]), "monday").Inside);
    }

    private static string Words(StoreWeek week, string night = "monday")
    {
        var record = NightRecord.Of(week, night);
        return $"{Clock(record.Opened)} {Clock(record.Closed)}".Trim() + " | "
            + string.Join(", ", record.People.Select(person =>
                $"{person.Key} {(person.Value.IsHere ? "in" : "out")} {person.Value.Since.Hour:D2}:{person.Value.Since.Minute:D2}"));
    }

    private static string Clock(IFloorReport? report) => report is null ? "" : $"{report.At.Hour:D2}:{report.At.Minute:D2}";

    private static IEnumerable<IReadOnlyList<IFloorReport>> Permutations(IReadOnlyList<IFloorReport> reports) => reports.Count == 0
        ? [[]]
        : reports.SelectMany(first => Permutations([.. reports.Where(other => other != first)])
            .Select(rest => (IReadOnlyList<IFloorReport>)[first, .. rest]));
}
