using NodaTime;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Snags;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Snags;

public sealed class SnagTests
{
    private static readonly LocalDate Tuesday = new(2027, 3, 9), Friday = new(2027, 3, 12);

    private static readonly SnagRaised Chipped = Stated("s1", zone: "wall");

    [Fact]
    public void Snags_are_numbered_in_the_order_in_which_they_arrive()
    {
        var week = After(Given(), Chipped, Stated("s2", zone: "floor"), Stated("s3", display: "cycle.panel"));
        Assert.Equal([(1, "s1"), (2, "s2"), (3, "s3")], week.AllSnags().Select(snag => (snag.Number, snag.Raised.Report)));
    }

    [Fact]
    public void The_number_of_a_snag_that_is_taken_back_is_not_used_again()
    {
        var week = After(Given(), Chipped);
        week = Then(week, week.Retract(new ReportRetracted("r1", "s1", At(23, 0))).AsT0);
        Assert.Empty(week.AllSnags());
        week = After(week, Stated("s2", zone: "floor"));
        Assert.Equal(2, Assert.Single(week.AllSnags()).Number);
    }

    [Fact]
    public void A_correction_keeps_the_number_and_what_was_done_about_the_snag()
    {
        var week = After(Given(), Chipped);
        week = Acted(week, "1", snag => new SnagFixed("f1", snag, "p1", At(23, 0)));
        week = After(week, Stated("s2", zone: "floor") with { Corrects = "s1", At = At(22, 10) });
        var snag = Assert.Single(week.AllSnags());
        Assert.Equal((1, "floor", SnagState.Fixed), (snag.Number, snag.Raised.Area, snag.State));
    }

    [Fact]
    public void A_snag_is_in_the_zone_of_its_display_or_of_its_piece()
    {
        var week = After(Given(Published), Stated("s1", display: "feature-wall"), Stated("s2", piece: 101), Stated("s3", piece: 103));
        Assert.Equal([("wall", null), ("wall", "feature-wall.paint"), ("wall", null)],
            week.AllSnags().Select(snag => (snag.Raised.Area, snag.Raised.Task)));
    }

    [Theory]
    [InlineData("unknown-zone", "roof", null, null)]
    [InlineData("unknown-display", null, "roof", null)]
    [InlineData("unknown-piece", null, null, 199)]
    public void A_snag_somewhere_unknown_is_refused(string code, string? zone, string? display, int? piece) =>
        Assert.Equal(code, Given(Published).Raise(Stated("s1", zone, display, piece)).AsT1.Code);

    [Fact]
    public void A_piece_that_the_plan_no_longer_has_does_not_refuse_a_repeated_report()
    {
        var week = After(Given(Published), Stated("s1", piece: 101));
        week = StoreWeek.Evolve(week, Published with { PlanId = "plan-2", Plan = Worked with { Nights = [] } })!;
        Assert.Empty(week.Raise(Stated("s1", piece: 101)).AsT0);
        Assert.Equal("unknown-piece", week.Raise(Stated("s2", piece: 101)).AsT1.Code);
    }

    [Fact]
    public void A_repeated_report_changes_nothing_whoever_is_signed_in_and_another_content_is_refused()
    {
        var week = After(Given(), Chipped with { Photos = ["photo-1"] });
        Assert.Empty(week.Raise(Chipped with { Photos = ["photo-1"], By = "p2" }).AsT0);
        Assert.Equal("report-id-used", week.Raise(Chipped).AsT1.Code);
        Assert.Equal("report-id-used", week.Raise(Chipped with { Photos = ["photo-1"], Due = Friday }).AsT1.Code);
        var done = Acted(week, "s1", snag => new SnagFixed("f1", snag, "p1", At(23, 0)));
        Assert.Empty(done.Act("1", snag => new SnagFixed("f1", snag, "p2", At(23, 0))).AsT0);
    }

    [Fact]
    public void A_snag_is_fixed_reopened_handed_on_and_accepted_each_by_name_and_time()
    {
        var week = After(Given(), Chipped);
        week = Acted(week, "1", snag => new SnagFixed("f1", snag, "p1", At(23, 0)));
        Assert.Equal((SnagState.Fixed, "p1", At(23, 0)), Since(week));
        week = Acted(week, "1", snag => new SnagReopened("o1", snag, "p2", At(23, 10)));
        Assert.Equal((SnagState.Open, "p2", At(23, 10)), Since(week));
        week = Acted(week, "1", snag => new SnagHandedOn(
            "h1", snag, new SnagOwner(SnagOwnerKind.Trade, Trade: "electrician"), Friday, "lena", At(23, 20)));
        week = Acted(week, "1", snag => new SnagAcceptedOpen("a1", snag, "lena", At(23, 30)));
        Assert.Equal((SnagState.Accepted, "lena", At(23, 30)), Since(week));
        var accepted = Assert.Single(week.AllSnags());
        Assert.Equal(("electrician", Friday, true), (accepted.Owner.Trade, accepted.Due, accepted.IsOpen));
        Assert.Equal(["f1", "o1", "h1", "a1"], accepted.Acts.Select(act => act.Report));

        static (SnagState, string, OffsetDateTime) Since(StoreWeek week) =>
            Assert.Single(week.AllSnags()) is var snag ? (snag.State, snag.Since.By, snag.Since.At) : default;
    }

    /// <summary>The scenario's walk-through: no open snag is one of safety.</summary>
    [Fact]
    public void A_snag_by_which_somebody_could_be_hurt_is_not_accepted_as_it_is()
    {
        var week = After(Given(), Chipped with { Safety = true });
        ISnagReport Accept(string snag) => new SnagAcceptedOpen("a1", snag, "lena", At(23, 30));
        Assert.Equal("safety-critical", week.Act("1", Accept).AsT1.Code);
        week = Acted(week, "1", snag => new SnagFixed("f1", snag, "p1", At(23, 0)));
        Assert.True(week.Act("1", Accept).IsT0);
    }

    [Fact]
    public void What_does_not_exist_is_refused_and_a_snag_that_is_on_its_way_is_not()
    {
        Assert.True(Given().Act("7", snag => new SnagFixed("f1", snag, "p1", At(23, 0))).AsT1.Unknown);
        Assert.True(Given().Act("99999999999", snag => new SnagFixed("f1", snag, "p1", At(23, 0))).AsT1.Unknown);
        var week = Acted(Given(), "s1", snag => new SnagFixed("f1", snag, "p1", At(23, 0)));
        Assert.Empty(week.AllSnags());
        Assert.Equal(SnagState.Fixed, Assert.Single(After(week, Chipped).AllSnags()).State);
        var stranger = Chipped with { Owner = new SnagOwner(SnagOwnerKind.Person, "p9") };
        Assert.Equal("unknown-person", Given().Raise(stranger).AsT1.Code);
        Assert.Equal("unknown-person", week.Act("s1",
            snag => new SnagHandedOn("h1", snag, stranger.Owner, null, "lena", At(23, 0))).AsT1.Code);
    }

    [Fact]
    public void A_snag_says_nothing_about_whether_the_plan_holds() =>
        Assert.False(PlanHealth.NeedsCheck(After(Given(Published), Chipped), [Chipped]));

    private static SnagRaised Stated(string report, string? zone = null, string? display = null, int? piece = null) => new(
        report, 0, zone, display, piece, null, null, new SnagOwner(SnagOwnerKind.Store), Tuesday, false, "p1", At(22, 0));

    private static StoreWeek After(StoreWeek week, params SnagRaised[] raised) =>
        raised.Aggregate(week, (state, snag) => Then(state, state.Raise(snag).AsT0));

    private static StoreWeek Acted(StoreWeek week, string snag, Func<string, ISnagReport> act) =>
        Then(week, week.Act(snag, act).AsT0);

    private static StoreWeek Then(StoreWeek week, IReadOnlyList<IWeekEvent> events) =>
        events.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);
}
