using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;
using static SetWeek.Domain.Tests.Revisions.RevisedWeek;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>Kits of an open week: what is expected, late, counted and settled.</summary>
public sealed class KitRevisionTests
{
    [Fact]
    public void A_kits_time_is_expected_or_delayed_and_a_new_kit_is_shipped()
    {
        var noon = new LocalDateTime(2027, 3, 9, 12, 0);
        Assert.Equal([new KitDelayed("paint", noon)], Revised(Given(), Eta("paint", noon)).Events);
        Assert.Equal([new KitDelayed("paint", null)], Revised(Given(), Eta("paint", null)).Events);
        Assert.Equal([new KitExpected("paint", noon.PlusDays(-3))], Revised(Given(), Eta("paint", noon.PlusDays(-3))).Events);
        Assert.Equal([new KitExpected("paint", noon)], Revised(Given(new KitDelayed("paint", null)), Eta("paint", noon)).Events);
        var events = Revised(Given(),
            week => week with { Kits = [.. week.Kits, new Kit("tape", "Tape", noon) { Lines = [new KitLine("roll", 2)] }] }).Events;
        Assert.Equal([new DirectedLine("roll", 2)], Assert.IsType<KitSet>(events[0]).Lines);
        Assert.Equal(noon, Given([.. events]).Week.Kits[1].Eta);
        Assert.Equal(new KitDropped("tape"), Assert.Single(Revised(Given([.. events]),
            week => week with { Kits = [week.Kits[0]] }).Events));
    }

    /// <summary>Three tins came and two are damaged; two are needed. A second delivery brings them, and the count stays a fact.</summary>
    [Fact]
    public void Missing_pieces_that_will_be_delivered_settle_the_line_and_add_a_kit()
    {
        IWeekEvent[] counted = [new KitArrived("r", "paint", At(12, 0)), new KitCounted("paint", At(12, 0), [new("tin", 3, 2)])];
        var by = new LocalDateTime(2027, 3, 9, 20, 0);
        var events = Revised(Given(counted), week => WeekChange.Apply(week, [new MissingPiecesDelivered("paint", "tin", by)])).Events;
        Assert.Equal(["KitLineSettled", "KitSet", "KitExpected", "TasksRevised"], events.Select(e => e.GetType().Name));
        var after = Given([.. counted, .. events]).Week;
        Assert.Equal((3, 2, true), (after.Kits[0].Lines[0].Received, after.Kits[0].Lines[0].Damaged, after.Kits[0].Lines[0].Settled));
        Assert.Equal(by, after.Kits[1].Eta);
    }

    [Fact]
    public void A_count_is_a_fact_that_nobody_decides()
    {
        var faults = Given().Revise(Crew, Wanted(Given(), week => week with
        {
            Kits = [week.Kits[0] with { Lines = [new KitLine("tin", 3) { Received = 3 }] }],
        }), MondayEvening, "lena").AsT2.All;
        Assert.Equal("/kits/0/lines/0/received", Assert.Single(faults).Pointer);
        var arrived = Given(new KitArrived("r", "paint", At(12, 0)), new KitCounted("paint", At(12, 0), [new("tin", 3, 0)]));
        Assert.Equal("kit-arrived", arrived.Revise(Crew, Wanted(arrived, Eta("paint", new(2027, 3, 9, 12, 0))), MondayEvening, "lena")
            .AsT1.Code);
    }

    private static Func<Week, Week> Eta(string kit, LocalDateTime? eta) => week => WeekChange.Apply(week, [new KitEtaMoved(kit, eta)]);
}
