using CsCheck;
using NodaTime;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Snags;
using static SetWeek.Domain.Tests.Example;
using Take = System.Func<SetWeek.Domain.Weeks.StoreWeek,
    OneOf.OneOf<System.Collections.Generic.IReadOnlyList<SetWeek.Domain.Weeks.Events.IWeekEvent>, SetWeek.Domain.Refusal>>;

namespace SetWeek.Domain.Tests.Snags;

/// <summary>
/// The reports on snags end in one state in whatever order they arrive and however often each does. Only the numbers depend on the
/// order: they are given at arrival, so that people can say them.
/// </summary>
public sealed class SnagOrderTests
{
    private static readonly LocalDate Tuesday = new(2027, 3, 9), Friday = new(2027, 3, 12);

    private static readonly Take[] Night =
    [
        Raise("s1", "wall", 22, 0), Raise("s2", "floor", 22, 5), Raise("s3", "wall", 22, 10), Raise("s4", "floor", 22, 12, "s3"),
        Act("s1", snag => new SnagFixed("f1", snag, "p1", At(23, 0), ["photo-2"])),
        Act("s1", snag => new SnagReopened("o1", snag, "p2", At(23, 10))),
        Act("s1", snag => new SnagHandedOn("h1", snag, new SnagOwner(SnagOwnerKind.Person, "p2"), null, "p1", At(23, 5))),
        Act("s1", snag => new SnagHandedOn("h2", snag, new SnagOwner(SnagOwnerKind.Supplier), Friday, "p1", At(23, 20))),
        Act("s2", snag => new SnagAcceptedOpen("a1", snag, "lena", At(23, 30))),
        Act("s3", snag => new SnagFixed("f2", snag, "p1", At(22, 50))),
        week => week.Retract(new ReportRetracted("r1", "f2", At(23, 40))),
    ];

    [Fact]
    public void All_orders_duplicates_and_delays_end_in_one_state()
    {
        var expected = Snapshot(After(Night));
        Assert.Equal(3, expected.Split('\n').Length);
        Gen.Shuffle((Take[])[.. Night, .. Night]).Sample(shuffled => Snapshot(After(shuffled)) == expected, iter: 500);
    }

    [Fact]
    public void Each_snag_keeps_its_number_and_shares_it_with_none() =>
        Gen.Shuffle(Night).Sample(shuffled =>
        {
            var (week, known) = (Given(), new Dictionary<string, int>());
            foreach (var take in shuffled)
            {
                week = After([take], week);
                foreach (var (report, number) in week.Snags.Numbers)
                    if (known.TryGetValue(report, out var before) && before != number) return false;
                    else known[report] = number;
            }
            return week.AllSnags().Select(snag => snag.Number).Order().SequenceEqual([1, 2, 3])
                && known["s3"] == known["s4"];
        }, iter: 500);

    private static Take Raise(string report, string zone, int hour, int minute, string? corrects = null) => week => week.Raise(
        new SnagRaised(report, 0, zone, null, null, null, null, new SnagOwner(SnagOwnerKind.Store), Tuesday, false, "p1",
            At(hour, minute), ["photo-1"], null, corrects));

    private static Take Act(string snag, Func<string, ISnagReport> act) => week => week.Act(snag, act);

    private static StoreWeek After(IEnumerable<Take> reports, StoreWeek? from = null) => reports.Aggregate(from ?? Given(),
        (week, take) => take(week).AsT0.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!));

    /// <summary>All that is said of the snags but their numbers.</summary>
    private static string Snapshot(StoreWeek week) => string.Join('\n', week.AllSnags()
        .OrderBy(snag => snag.Raised.Report, StringComparer.Ordinal).Select(snag =>
            $"{snag.Raised.Report} {snag.Raised.Area} {snag.State} {snag.Owner} {snag.Due} {snag.Since.Report} "
            + $"{string.Join(',', snag.Acts.Select(act => act.Report))} {string.Join(',', snag.Photos)}"));
}
