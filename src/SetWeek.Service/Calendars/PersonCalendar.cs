using System.Security.Cryptography;
using System.Text;
using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Serialization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Duration = NodaTime.Duration;

namespace SetWeek.Service.Calendars;

/// <summary>
/// The published shifts of one person in a week as an iCalendar object (RFC 5545). It names nobody and shows no pay. The
/// identifier of an event stays when a plan replaces another. A shift that the new plan lacks is not in the calendar.
/// </summary>
public static class PersonCalendar
{
    public const string ContentType = "text/calendar; charset=utf-8";

    /// <summary>Octets in a line without its end (RFC 5545, section 3.1).</summary>
    private const int LongestLine = 75;

    /// <summary>Current names.</summary>
    public sealed record Titles(string Direction, string Store);

    /// <param name="tenant">The chain, which makes the identifiers unique in the world together with the ids.</param>
    /// <param name="plan">The published plan; null if there is none.</param>
    /// <param name="issue">1 for the first plan of the week that was published, 2 for the next.</param>
    /// <param name="published">When the plan was published.</param>
    public static string Of(
        string tenant, string person, Week week, Plan? plan, Titles titles, int issue, Instant published)
    {
        var calendar = new Calendar { ProductId = "-//SetWeek//SetWeek//EN" };
        calendar.AddProperty("X-WR-CALNAME", $"{titles.Direction}, {titles.Store}");
        // Section 3.6 demands a component, also of somebody without shifts.
        calendar.AddChild(ZoneOf(week));
        var words = new WeekLabels(week);
        foreach (var night in plan?.Nights ?? [])
            foreach (var shift in night.Shifts.Where(shift => shift.Person == person))
                calendar.Events.Add(new CalendarEvent
                {
                    Uid = UidOf(tenant, week.Id, night.Night, person),
                    Sequence = issue,
                    DtStamp = Utc(published),
                    // In UTC, because a local time cannot say which of two equal hours is meant when clocks go back.
                    Start = Utc(shift.From.ToInstant()),
                    End = Utc(shift.To.ToInstant()),
                    Summary = $"{titles.Direction}: night shift",
                    Location = titles.Store,
                    Description = Description(week, shift, words.ClocksChange(night.Night)),
                });
        return Folded(new CalendarSerializer().SerializeToString(calendar)!);
    }

    private static string Description(Week week, PlannedShift shift, bool clocksChange)
    {
        var text = $"In the store from {Time(shift.From)} to {Time(shift.To)}";
        if (shift.Break is { } pause) text += $", with a break from {Time(pause.From)} to {Time(pause.To)}";
        return $"{text}. These are times of {week.Store.TimeZone}. Your lead tells you when a new plan is published.";

        string Time(OffsetDateTime time) => WeekLabels.Time(time, clocksChange);
    }

    /// <summary>RFC 7986, section 5.3: an identifier is unique in the world and tells nothing about the person.</summary>
    private static string UidOf(string tenant, string week, string night, string person) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{tenant}/{week}/{night}/{person}")))[..32];

    private static CalDateTime Utc(Instant time) => new(time.ToDateTimeUtc());

    /// <summary>
    /// The store's time zone around the week (section 3.6.5): a part for each stretch with one offset. The library would describe
    /// the rules of the year in which it runs, so the parts are made from the time zone data.
    /// </summary>
    private static VTimeZone ZoneOf(Week week)
    {
        var zone = DateTimeZoneProviders.Tzdb[week.Store.TimeZone];
        var times = week.Nights.SelectMany(night => (LocalDateTime[])[night.Opens, night.Closes]).Append(week.Launch)
            .Select(time => zone.AtLeniently(time).ToInstant()).ToList();
        var described = new VTimeZone(week.Store.TimeZone);
        foreach (var stretch in zone.GetZoneIntervals(times.Min() - Duration.FromDays(1), times.Max() + Duration.FromDays(1)))
        {
            var before = stretch.HasStart ? zone.GetUtcOffset(stretch.Start - Duration.Epsilon) : stretch.WallOffset;
            var onset = stretch.HasStart ? stretch.Start.WithOffset(before).LocalDateTime : new LocalDateTime(1970, 1, 1, 0, 0);
            described.AddChild(new VTimeZoneInfo(stretch.Savings == Offset.Zero ? Components.Standard : Components.Daylight)
            {
                OffsetFrom = new UtcOffset(before.ToTimeSpan()),
                OffsetTo = new UtcOffset(stretch.WallOffset.ToTimeSpan()),
                TimeZoneName = stretch.Name,
                Start = new CalDateTime(onset.ToDateTimeUnspecified()),
            });
        }
        return described;
    }

    /// <summary>Folds long lines by octets and between characters, whatever the library counts.</summary>
    private static string Folded(string text)
    {
        var folded = new StringBuilder();
        foreach (var line in text.Replace("\r\n ", "", StringComparison.Ordinal)
            .Split("\r\n", StringSplitOptions.RemoveEmptyEntries))
        {
            var octets = 0;
            foreach (var character in line.EnumerateRunes())
            {
                if (octets + character.Utf8SequenceLength > LongestLine)
                {
                    folded.Append("\r\n ");
                    octets = 1;
                }
                folded.Append(character);
                octets += character.Utf8SequenceLength;
            }
            folded.Append("\r\n");
        }
        return folded.ToString();
    }
}
