using System.Globalization;
using NodaTime;
using NodaTime.Text;
using SetWeek.Scheduling;

namespace SetWeek.Service.Commands;

/// <summary>How the demo says times, lengths, money and goals to somebody who sees them for the first time.</summary>
internal static class DemoWords
{
    private static readonly LocalDateTimePattern Clock = LocalDateTimePattern.CreateWithInvariantCulture("HH':'mm");
    private static readonly LocalDateTimePattern DayAndClock = LocalDateTimePattern.CreateWithInvariantCulture("ddd d MMMM', 'HH':'mm");
    private static readonly LocalDateTimePattern WeekdayAndClock = LocalDateTimePattern.CreateWithInvariantCulture("ddd HH':'mm");
    private static readonly LocalDateTimePattern DayOnly = LocalDateTimePattern.CreateWithInvariantCulture("ddd d MMMM");

    public static string Time(LocalDateTime at) => Clock.Format(at);

    public static string Time(OffsetDateTime at) => Clock.Format(at.LocalDateTime);

    public static string DayTime(LocalDateTime at) => DayAndClock.Format(at);

    public static string Day(LocalDateTime at) => DayOnly.Format(at);

    public static string Span(OffsetDateTime from, OffsetDateTime to) => $"{Time(from)}-{Time(to)}";

    public static string Length(long minutes) => (minutes / 60, minutes % 60) switch
    {
        (0, var rest) => $"{rest} min",
        (var hours, 0) => $"{hours} h",
        var (hours, rest) => $"{hours} h {rest}",
    };

    /// <summary>Elapsed time, which a change of the clocks inside the night makes shorter or longer than it looks.</summary>
    public static long Elapsed(Night night, string timeZone) =>
        (long)(night.Closes.InZoneLeniently(Zone(timeZone)).ToInstant() - night.Opens.InZoneLeniently(Zone(timeZone)).ToInstant()).TotalMinutes;

    public static long AsItLooks(Night night) => (long)(night.Closes.ToDateTimeUnspecified() - night.Opens.ToDateTimeUnspecified()).TotalMinutes;

    public static string Money(long minor, string currency) => $"{currency} {(minor / 100m).ToString("N2", CultureInfo.InvariantCulture)}";

    /// <summary>"1 night", "5 nights".</summary>
    public static string Count(int number, string one, string? many = null) => $"{number} {(number == 1 ? one : many ?? one + "s")}";

    public static string GoalName(string goal) => goal switch
    {
        "leftOut" => "Value left out",
        "reserve" => "Last night beyond its reserve",
        "cost" => "Wages",
        "finish" => "All done",
        "moves" => "Walks between zones",
        "changes" => "Changes, weighted by notice",
        "nights" => "Nights used",
        "shifts" => "Shifts",
        "uneven" => "Most less least paid time",
        _ => goal,
    };

    public static string GoalHead(string goal) => goal switch
    {
        "leftOut" => "left out",
        "reserve" => "beyond reserve",
        "cost" => "wages",
        "finish" => "all done",
        "moves" => "walks",
        _ => goal,
    };

    public static string GoalInShort(string goal, long value, Week week) => goal == "finish"
        ? WeekdayAndClock.Format(Finish(value, week)) : GoalValue(goal, value, week);

    public static string GoalValue(string goal, long value, Week week) => goal switch
    {
        "cost" => Money(value, week.Currency),
        "finish" => DayTime(Finish(value, week)),
        "reserve" => value == 0 ? "none" : Length(value),
        "uneven" => Length(value),
        _ => value.ToString(CultureInfo.InvariantCulture),
    };

    private static LocalDateTime Finish(long minutes, Week week) =>
        (week.Nights[0].Opens.InZoneLeniently(Zone(week.Store.TimeZone)) + Duration.FromMinutes(minutes)).LocalDateTime;

    private static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb[id];
}
