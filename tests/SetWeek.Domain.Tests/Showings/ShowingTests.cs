using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Showings;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Work;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Showings;

/// <summary>
/// The painted wall must be shown, and Ben paints it on Monday from 21:45. Lena leads the week and is not of its crew. That nobody
/// begins such work before it was shown is common practice, no source.
/// </summary>
public sealed class ShowingTests
{
    private const string Wall = "feature-wall";

    private static readonly WorkStarted Start = new("r1", "feature-wall.paint", 1, "monday", At(21, 50), By: "p2");

    private static readonly DisplayShown ByLena = new("s1", Wall, At(21, 40), "lena", ["p2"], "lena", ByLead: true),
        SignedByBen = new("s2", Wall, At(21, 40), "p1", ["p2"], "p2", ByLead: false);

    private static readonly NightOpened Opening = new("n1", "monday", At(21, 20), "p1", ["p1", "p2"], "p1", ["exits", "first-aid"]);

    [Fact]
    public void Nobody_begins_before_the_display_was_shown_to_them()
    {
        var refusal = Week().TakeReport(Start).AsT1;
        Assert.Equal("not-shown", refusal.Code);
        Assert.Equal("“Paint the wall” does not begin. Somebody can be hurt if this display is built wrongly: “Painted wall”. Before "
            + "this start it was not shown to the person who begins. Somebody who knows it shows it first. Then each person signs, "
            + "or the lead records it.", refusal.Sentence);
        Assert.Equal([Start], Week(ByLena).TakeReport(Start).AsT0);
        // Each of them, and work that goes on with another person too.
        Assert.Contains("1 of the 2 who begin", Week(ByLena).TakeReport(Start with { People = ["p1", "p2"] }).AsT1.Sentence);
        Assert.Equal("not-shown", CodeOf(Week(ByLena, Start), new WorkResumed("r2", Start.Task, 1, "monday", At(22, 0), ["p1"])));
        Assert.Null(CodeOf(Week(ByLena, Start), new WorkResumed("r2", Start.Task, 1, "monday", At(22, 0))));
        // Other displays, and what is no start.
        Assert.Null(CodeOf(Week(), Start with { Task = "cycle.panel.lean" }));
        Assert.Null(CodeOf(Week(), new WorkFinished("r2", Start.Task, 1, "monday", At(22, 0))));
        Assert.Null(CodeOf(Given(Published), Start)); // the direction does not ask for it
    }

    [Theory]
    [InlineData(21, 51, "not-shown")]
    [InlineData(21, 50, null)]
    public void It_is_shown_before_the_start_to_the_minute(int hour, int minute, string? code) =>
        Assert.Equal(code, CodeOf(Week(ByLena with { At = At(hour, minute).PlusSeconds(40) }), Start));

    [Fact]
    public void A_signature_counts_if_it_names_a_lead_or_somebody_to_whom_it_was_shown()
    {
        // Nobody says that Asha knows the wall.
        var unsupported = Week(SignedByBen).TakeReport(Start).AsT1;
        Assert.Equal("not-shown", unsupported.Code);
        Assert.Contains("to whom the display was not shown", Assert.Single(unsupported.Because));
        // She opened the night as its lead; or Lena has shown it to her; or Lena records that Asha showed it.
        Assert.Null(CodeOf(Week(Opening, SignedByBen), Start));
        Assert.Null(CodeOf(Week(ByLena with { To = ["p1"] }, SignedByBen), Start));
        Assert.Null(CodeOf(Week(SignedByBen with { By = "lena", ByLead = true }), Start));
        // Asha was shown it after she showed it to Ben; then in the same minute.
        var toAsha = ByLena with { To = ["p1"] };
        Assert.Equal("not-shown", CodeOf(Week(toAsha with { At = At(21, 45) }, SignedByBen), Start));
        Assert.Null(CodeOf(Week(toAsha with { At = At(21, 40).PlusSeconds(40) }, SignedByBen), Start));
        // Two who sign for each other know nothing yet.
        var circle = SignedByBen with { Report = "s3", ShownBy = "p2", To = ["p1"], By = "p1" };
        Assert.Equal("not-shown", CodeOf(Week(SignedByBen, circle), Start));
    }

    /// <summary>Reports arrive in any order. Here are all six orders of a chain from Lena to Asha to Ben.</summary>
    [Fact]
    public void The_order_of_arrival_has_no_effect()
    {
        IWeekEvent[] reports = [ByLena with { To = ["p1"], At = At(21, 30) }, SignedByBen,
            new DisplayShown("s4", Wall, At(21, 35), "lena", ["p2"], "p2", ByLead: false)];
        var states = new int[][] { [0, 1, 2], [0, 2, 1], [1, 0, 2], [1, 2, 0], [2, 0, 1], [2, 1, 0] }
            .Select(order => ShownDisplay.Of(Week([.. order.Select(index => reports[index])]), Wall)).ToList();
        Assert.All(states, state =>
        {
            Assert.Equal((At(21, 30), At(21, 35), At(21, 30)),
                (state.Instructed["p1"].At, state.Instructed["p2"].At, state.Instructed["lena"].At));
            Assert.Equal(("lena", null), (state.Instructed["p2"].ShownBy, state.Instructed["p2"].RecordedBy));
            Assert.Empty(state.Unsupported);
        });
    }

    /// <summary>Ben signs that Asha showed it at 21:40, and Lena shows it to her at 21:45.</summary>
    [Fact]
    public void Nobody_knows_a_display_before_it_was_shown_to_them()
    {
        var shown = ShownDisplay.Of(Week(SignedByBen, ByLena with { To = ["p1"], At = At(21, 45) }), Wall);
        Assert.False(shown.IsKnownTo("p1", At(21, 44).ToInstant()));
        Assert.True(shown.IsKnownTo("p1", At(21, 45).ToInstant()));
        Assert.False(shown.IsKnownTo("p2", At(23, 0).ToInstant()));
    }

    [Fact]
    public void What_is_taken_back_was_never_shown_and_a_start_that_is_recorded_stays()
    {
        var week = Week(ByLena, Start, new ReportRetracted("b1", "s1", At(22, 0)));
        Assert.Empty(ShownDisplay.Of(week, Wall).Instructed);
        Assert.Empty(week.TakeReport(Start).AsT0); // a repetition
        Assert.Equal("not-shown", CodeOf(week, Start with { Report = "r9", Stint = 2 }));
        var corrected = Week(ByLena, ByLena with { Report = "s5", To = ["p1"], Corrects = "s1" });
        Assert.Equal(["lena", "p1"], ShownDisplay.Of(corrected, Wall).Instructed.Keys.Order());
    }

    [Fact]
    public void The_list_of_a_display_has_who_is_planned_on_it_and_who_was_shown_it()
    {
        Assert.Equal(["p2"], ShownDisplay.PeopleOf(Week(), Wall));
        Assert.Equal(["lena", "p1", "p2"], ShownDisplay.PeopleOf(Week(ByLena with { To = ["p1"] }), Wall).Order());
    }

    public static TheoryData<string, string> Refused => new()
    {
        { "unknown-display", "another display" }, { "shown-to-self", "themselves" }, { "unknown-person", "a stranger" },
        { "unknown-person", "by a stranger" }, { "report-id-used", "other people" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_showing_that_cannot_be_is_refused(string code, string what)
    {
        var week = Week(ByLena);
        Assert.Equal(code, (what switch
        {
            "another display" => week.RecordShown(ByLena with { Report = "x", Display = "tree" }),
            "themselves" => week.RecordShown(SignedByBen with { Report = "x", ShownBy = "p2" }),
            "a stranger" => week.RecordShown(ByLena with { Report = "x", To = ["p2", "zed"] }),
            "by a stranger" => week.RecordShown(SignedByBen with { Report = "x", ShownBy = "zed" }),
            _ => week.RecordShown(ByLena with { To = ["p1"] }),
        }).AsT1.Code);
    }

    [Fact]
    public void A_report_sent_again_by_whoever_has_the_phone_changes_nothing()
    {
        Assert.Empty(Week(ByLena).RecordShown(ByLena with { By = "p1", ByLead = false }).AsT0);
        // Lena is known as a lead by what she recorded, so that crew may name her.
        Assert.Single(Week(ByLena).RecordShown(SignedByBen with { ShownBy = "lena" }).AsT0);
    }

    [Fact]
    public void The_sheet_says_to_whom_it_is_still_to_be_shown_and_who_may_show_it()
    {
        var showing = SheetOf(Week(Opening)).Pieces[0].Showing!;
        Assert.Equal((Wall, "Painted wall", "Ben Marsh"), (showing.Display, showing.Name, Assert.Single(showing.NotYet()).Name));
        Assert.Equal(["Asha Rowan"], showing.MayShow.Select(person => person.Name));
        var shown = SheetOf(Week(Opening, ByLena)).Pieces[0].Showing!;
        Assert.Empty(shown.NotYet());
        Assert.Equal(("lena", "lena", At(21, 40)), Assert.Single(shown.People) is var ben
            ? (ben.ShownBy!.Name, ben.RecordedBy!.Name, ben.At!.Value) : default);
        Assert.Null(Assert.Single(SheetOf(Week(Opening, SignedByBen)).Pieces[0].Showing!.People).RecordedBy);
        Assert.All(SheetOf(Given(Published)).Pieces, piece => Assert.Null(piece.Showing));
    }

    [Fact]
    public void Outside_the_store_a_sheet_does_not_say_to_whom_it_was_shown()
    {
        var sheet = SheetOf(Week(Opening, ByLena));
        Assert.Contains(sheet.Pieces, piece => piece.Showing is not null);
        Assert.All(sheet.WithoutShowings().Pieces, piece => Assert.Null(piece.Showing));
        Assert.Equal(sheet.Pieces.Select(piece => piece.Number), sheet.WithoutShowings().Pieces.Select(piece => piece.Number));
    }

    [Fact]
    public void The_history_says_who_showed_it_to_whom_and_who_recorded_that()
    {
        Assert.Equal("Asha Rowan showed “Painted wall” to Ben Marsh Mon 8 Mar, 21:40.", EventSentences.Of(Week(), Crew, SignedByBen));
        Assert.Equal("\"lena\" showed “Painted wall” to Ben Marsh Mon 8 Mar, 21:40; recorded by \"lena\".",
            EventSentences.Of(Week(), Crew, ByLena));
    }

    [Fact]
    public void A_later_version_of_the_direction_may_ask_for_it()
    {
        var marked = FirstRain with
        {
            Displays = [.. FirstRain.Displays.Select(display => display with { MustBeShown = display.Id == Wall })],
        };
        Assert.Equal([Wall], Scoping.Of(marked, Harbour).MustBeShown);
        var before = Given(Published);
        Assert.Empty(before.MustBeShown);
        var update = DirectionUpdate.Of(before, Crew, Scoping.Of(FirstRain, Harbour), Scoping.Of(marked, Harbour), 2,
            MondayEvening, "head").AsT0;
        var after = update.Revision.Events.Aggregate((StoreWeek?)before, StoreWeek.Evolve)!;
        Assert.Equal([Wall], after.MustBeShown);
        Assert.Equal("not-shown", CodeOf(after, Start));
    }

    private static string? CodeOf(StoreWeek week, IWorkReport report) =>
        week.TakeReport(report).Match(_ => (string?)null, refusal => refusal.Code);

    private static NightSheet SheetOf(StoreWeek week) => NightSheets.Of(week, new CrewFile(week.Id, Crew.Members), week.Week.Nights[0],
        NightMargins.Of(week, Crew, "monday"), Instant.FromUtc(2027, 3, 8, 21, 45));

    private static StoreWeek Week(params IWeekEvent[] events) => events.Prepend(Published).Prepend(Opened with { MustBeShown = [Wall] })
        .Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;
}
