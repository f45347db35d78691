using SetWeek.Domain.Nights;
using SetWeek.Domain.Openings;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Openings;

public sealed class OpeningTests
{
    private static readonly NightOpened Opening =
        new("r1", "monday", At(21, 20), "wren", ["p1"], "p1", ["exits", "first-aid", "order"]);

    public static TheoryData<string, string> Refused => new()
    {
        { "unknown-night", "sunday" }, { "unknown-person", "stranger" }, { "first-aider-not-here", "absent first-aider" },
        { "not-said", "exits unsaid" }, { "not-said", "first aid unsaid" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void A_night_is_opened_by_naming_people_the_first_aider_and_the_ways_out(string code, string what)
    {
        var opening = what switch
        {
            "sunday" => Opening with { Night = "sunday" },
            "stranger" => Opening with { Here = ["p1", "p9"] },
            "absent first-aider" => Opening with { FirstAider = "p2" },
            "exits unsaid" => Opening with { Said = ["first-aid"] },
            _ => Opening with { Said = ["exits"] },
        };
        Assert.Equal(code, Given().OpenNight(opening).AsT1.Code);
        Assert.Equal([Opening], Given().OpenNight(Opening).AsT0);
    }

    [Fact]
    public void What_is_unsaid_is_told_in_words() => Assert.Equal(["Every way out, and that it stays free all night."],
        Given().OpenNight(Opening with { Said = ["first-aid"] }).AsT1.Because);

    /// <summary>A phone sends its queue again after somebody else has signed in on it.</summary>
    [Fact]
    public void A_repeated_opening_changes_nothing_whoever_sends_it()
    {
        Assert.Empty(Given(Opening).OpenNight(Opening).AsT0);
        Assert.Empty(Given(Opening).OpenNight(Opening with { By = "p2", Here = [.. Opening.Here] }).AsT0);
        Assert.Equal("report-id-used", Given(Opening).OpenNight(Opening with { Here = ["p1", "p2"] }).AsT1.Code);
        Assert.Equal("report-id-used", Given(Opening).OpenNight(Opening with { Said = ["exits", "first-aid"] }).AsT1.Code);
    }

    [Fact]
    public void A_night_is_opened_once_and_an_opening_can_be_corrected()
    {
        var again = Opening with { Report = "r2", Here = ["p1", "p2"] };
        Assert.Equal("opened-already", Given(Opening).OpenNight(again).AsT1.Code);
        Assert.Equal([again with { Corrects = "r1" }], Given(Opening).OpenNight(again with { Corrects = "r1" }).AsT0);
        Assert.Equal(["p1", "p2"], NightRecord.Of(Given(Opening, again with { Corrects = "r1" }), "monday").Inside);
    }

    [Fact]
    public void Coming_and_leaving_are_facts_that_need_no_opened_night()
    {
        var came = new PersonCame("r3", "monday", "p2", At(21, 10));
        Assert.Equal([came], Given().RecordPresence(came, "p2").AsT0);
        Assert.Empty(Given(came).RecordPresence(came, "p2").AsT0);
        Assert.StartsWith("A report with this id is recorded already, and differs: Somebody came Mon 8 Mar, 21:10. That one stands.",
            Given(came).RecordPresence(came with { Person = "p1" }, "p1").AsT1.Sentence);
        Assert.Equal("unknown-person", Given().RecordPresence(came with { Person = "p9" }, "p9").AsT1.Code);
    }

    /// <summary>Asha is there, Ben is late; nobody is accused.</summary>
    [Fact]
    public void The_people_of_a_night_are_here_not_yet_left_or_absent()
    {
        Assert.Equal("p1 NotYet, p2 NotYet", People(Published));
        Assert.Equal("p1 Here, p2 NotYet", People(Published, Opening));
        Assert.Equal("p1 Here, p2 Left", People(Published, Opening, new PersonCame("r3", "monday", "p2", At(21, 40)),
            new PersonLeft("r4", "monday", "p2", At(22, 40))));
        Assert.Equal("p1 NotYet, p2 Absent", People(Published, new PersonAbsent("p2", "monday")));
        Assert.Equal("p1 NotYet, p2 Here", People(Published, new PersonAbsent("p2", "monday"),
            new PersonCame("r3", "monday", "p2", At(21, 40))));
    }

    [Fact]
    public void The_sheet_says_whether_the_night_is_opened_and_closed()
    {
        Assert.Null(SheetOf(Published).Opened);
        var closing = new NightClosed("r5", "monday", At(23, 40), "p2", ["p1"], [], [], [], []);
        var sheet = SheetOf(Published, Opening, closing);
        Assert.Equal((At(21, 20), "wren", "Asha Rowan"), (sheet.Opened!.At, sheet.Opened.By.Name, sheet.Opened.FirstAider.Name));
        Assert.Equal((At(23, 40), "Ben Marsh"), (sheet.Closed!.At, sheet.Closed.By.Name));
    }

    private static string People(params IWeekEvent[] events) => string.Join(", ", NightOpening.Of(
        Given(events), Crew, SheetOf(events), []).People.Select(person => $"{person.Person} {person.Presence}"));

    private static NightSheet SheetOf(params IWeekEvent[] events) => NightSheets.Of(Given(events), Crew, Opened.Week.Nights[0],
        NightMargins.Of(Given(events), Crew, "monday"), At(22, 0).ToInstant());
}
