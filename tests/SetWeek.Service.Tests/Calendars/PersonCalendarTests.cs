using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Calendars;
using SetWeek.Service.Tests.Exports;

namespace SetWeek.Service.Tests.Calendars;

/// <summary>A calendar parsed back by a reader that shares nothing with the library that wrote it.</summary>
public sealed class PersonCalendarTests
{
    private static readonly Instant Published = Instant.FromUtc(2027, 3, 5, 12, 0);

    [Fact]
    public void A_shift_is_an_event_with_its_times_place_and_issue()
    {
        var calendar = CalendarOf("p1", ExportedPlan.Plan);
        var shift = Assert.Single(calendar.Events);
        Assert.Equal(("20270309T010000Z", "20270309T053000Z"), (shift["DTSTART"], shift["DTEND"])); // 20:00 to 00:30 at -05:00
        Assert.Equal(("20270305T120000Z", "3"), (shift["DTSTAMP"], shift["SEQUENCE"]));
        Assert.Equal(("First Rain: night shift", "Harbour Street"), (shift["SUMMARY"], shift["LOCATION"]));
        Assert.Equal("In the store from 20:00 to 00:30, with a break from 22:00 to 22:30. These are times of America/New_York. "
            + "Your lead tells you when a new plan is published.", shift["DESCRIPTION"]);
    }

    /// <summary>RFC 5545, section 3.8.4.7: the identifier is that of the same event and of no other.</summary>
    [Fact]
    public void The_identifier_of_an_event_stays_and_is_of_no_other_person_night_week_or_chain()
    {
        Assert.Equal(Uid(), Uid(plan: ExportedPlan.Plan with { Status = PlanStatus.Optimal }));
        Assert.Distinct([Uid(), Uid(tenant: "other"), Uid(week: "w2"), Uid(person: "p2"), Uid(plan: In("tuesday"))]);
        Assert.DoesNotContain("p1", Uid(), StringComparison.Ordinal);

        static string Uid(string tenant = "quillmere", string person = "p1", string week = "w", Plan? plan = null) =>
            Assert.Single(CalendarReader.Parse(PersonCalendar.Of(
                tenant, person, ExportedPlan.Week("Ben Marsh") with { Id = week }, For(person, plan ?? ExportedPlan.Plan),
                new("First Rain", "Harbour Street"), 1, Published)).Events)["UID"];
        static Plan In(string night) =>
            ExportedPlan.Plan with { Nights = [ExportedPlan.Plan.Nights[0] with { Night = night }] };
        static Plan For(string person, Plan plan) => plan with
        {
            Nights = [plan.Nights[0] with { Shifts = [plan.Nights[0].Shifts[0] with { Person = person }] }],
        };
    }

    [Fact]
    public void A_calendar_names_nobody_and_has_the_shifts_of_one_person()
    {
        var text = PersonCalendar.Of("quillmere", "p2", ExportedPlan.Week("Ben Marsh"), ExportedPlan.Plan,
            new("First Rain", "Harbour Street"), 1, Published);
        Assert.DoesNotContain("Ben Marsh", text, StringComparison.Ordinal);
        Assert.Empty(CalendarReader.Parse(text).Events);
        Assert.DoesNotContain("Ben Marsh", PersonCalendar.Of("quillmere", "p1", ExportedPlan.Week("Ben Marsh"), ExportedPlan.Plan,
            new("First Rain", "Harbour Street"), 1, Published), StringComparison.Ordinal);
    }

    /// <summary>RFC 5545, section 3.6: a calendar has at least one component, so that one without shifts is valid too.</summary>
    [Fact]
    public void Without_a_plan_the_calendar_is_valid_and_has_no_event() => Assert.Empty(CalendarOf("p1", null).Events);

    /// <summary>RFC 5545, sections 3.1 (75 octets a line) and 3.3.11 (comma, semicolon, backslash escaped).</summary>
    [Theory]
    [InlineData("Quay; Pier, 2 \\ left")]
    [InlineData("Größenwahnstraße Überführung Äußerer Läuferweg ÄÖÜ äöüß ÄÖÜ äöüß ÄÖÜ äöüß ÄÖÜ äöüß")]
    [InlineData("雨の最初の日の飾り窓の店の通りの角の大きな青い建物の二階の奥の部屋の右側の棚")]
    [InlineData("🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧🌧")]
    [InlineData("BEGIN:VEVENT")]
    public void Any_name_survives_folding_and_escaping(string name)
    {
        var calendar = CalendarReader.Parse(PersonCalendar.Of(
            "quillmere", "p1", ExportedPlan.Week("Ben Marsh"), ExportedPlan.Plan, new(name, name), 1, Published));
        var shift = Assert.Single(calendar.Events);
        Assert.Equal((name, $"{name}: night shift"), (shift["LOCATION"], shift["SUMMARY"]));
        Assert.Equal($"{name}, {name}", calendar["X-WR-CALNAME"]);
    }

    /// <summary>
    /// Directive 2000/84/EC: summer time begins on the last Sunday of March at 01:00 UTC, which is 28 March in 2027. RFC 5545,
    /// section 3.6.5: the onset is a local time with the offset before it.
    /// </summary>
    [Fact]
    public void The_time_zone_around_a_clock_change_has_a_part_for_each_offset()
    {
        var zone = ZoneOf("Europe/London", new(2027, 3, 27, 20, 0));
        Assert.Equal("Europe/London", zone["TZID"]);
        Assert.Equal(["STANDARD", "DAYLIGHT"], zone.Parts.Select(part => part.Name));
        Assert.Equal(("20270328T010000", "+0000", "+0100"),
            (zone.Parts[1]["DTSTART"], zone.Parts[1]["TZOFFSETFROM"], zone.Parts[1]["TZOFFSETTO"]));
        Assert.Equal("+0000", zone.Parts[0]["TZOFFSETTO"]);
    }

    [Fact]
    public void The_time_zone_far_from_a_clock_change_has_one_part()
    {
        Assert.Equal(["+0545"], ZoneOf("Asia/Kathmandu", new(2027, 3, 8, 20, 0)).Parts.Select(part => part["TZOFFSETTO"]));
        Assert.Equal(["+0000"], ZoneOf("Etc/UTC", new(2027, 3, 8, 20, 0)).Parts.Select(part => part["TZOFFSETFROM"]));
    }

    private static CalendarReader ZoneOf(string zone, LocalDateTime opens)
    {
        var week = ExportedPlan.Week("Ben Marsh") with
        {
            Launch = opens.PlusDays(1), Store = new Store { Id = "s", TimeZone = zone },
            Nights = [new("monday", opens, opens.PlusHours(8))],
        };
        return Assert.Single(CalendarReader.Parse(PersonCalendar.Of("quillmere", "p1", week, null,
            new("First Rain", "Harbour Street"), 0, Published)).Parts);
    }

    private static CalendarReader CalendarOf(string person, Plan? plan) => CalendarReader.Parse(PersonCalendar.Of(
        "quillmere", person, ExportedPlan.Week("Ben Marsh"), plan, new("First Rain", "Harbour Street"), 3, Published));
}
