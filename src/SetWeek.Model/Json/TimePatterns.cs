using System.Text.RegularExpressions;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Model.Json;

/// <summary>Reads and writes the three forms of time in the project's files.</summary>
public static partial class TimePatterns
{
    /// <summary>The years allowed. Within them, minutes since the first night opens fit an int.</summary>
    public const int FirstYear = 2000, LastYear = 2099;

    private static readonly LocalDateTimePattern Local =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm");
    private static readonly LocalDatePattern Day = LocalDatePattern.Iso;
    private static readonly LocalTimePattern Clock = LocalTimePattern.CreateWithInvariantCulture("HH':'mm");
    private static readonly OffsetDateTimePattern Offset =
        OffsetDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm':'sso<+HH:mm>");

    /// <summary>A store-local time, as in 2027-03-08T21:30.</summary>
    public static string Write(LocalDateTime time) => Local.Format(time);

    /// <summary>A time of day, as in 22:00.</summary>
    public static string Write(LocalTime time) => Clock.Format(time);

    /// <summary>A time with its offset, as in 2027-03-08T21:30:00+00:00.</summary>
    public static string Write(OffsetDateTime time) => Offset.Format(time);

    /// <summary>Reads 2027-03-08T21:30, with or without :00 seconds. Null, or what is wrong with the text.</summary>
    public static string? Read(string text, out LocalDateTime time)
    {
        time = default;
        if (!LocalForm().IsMatch(text)) return "is not a store-local time; write it as 2027-03-08T21:30, without offset";
        return Exists(Local.Parse(text[..16]), out time) ?? InRange(time.Year);
    }

    /// <summary>Reads 2027-03-08. Null, or what is wrong with the text.</summary>
    public static string? Read(string text, out LocalDate date)
    {
        date = default;
        if (!DayForm().IsMatch(text)) return "is not a date; write it as 2027-03-08";
        return Exists(Day.Parse(text), out date) ?? InRange(date.Year);
    }

    /// <summary>Reads 22:00. Null, or what is wrong with the text.</summary>
    public static string? Read(string text, out LocalTime time)
    {
        time = default;
        if (!ClockForm().IsMatch(text)) return "is not a time of day; write it as 22:00";
        return Exists(Clock.Parse(text), out time);
    }

    /// <summary>Reads an RFC 3339 time with its offset. Null, or what is wrong with the text.</summary>
    public static string? Read(string text, out OffsetDateTime time)
    {
        time = default;
        if (!OffsetForm().IsMatch(text)) return "is not a time with its offset; write it as 2027-03-08T21:30:00+00:00";
        return Exists(OffsetDateTimePattern.Rfc3339.Parse(text.ToUpperInvariant()), out time) ?? InRange(time.Year);
    }

    private static string? Exists<T>(ParseResult<T> parsed, out T time)
    {
        var exists = parsed.TryGetValue(default!, out time);
        return exists ? null
            : "does not exist: months go to 12, days to the end of the month, hours to 23, minutes and seconds to 59";
    }

    private static string? InRange(int year) =>
        year is >= FirstYear and <= LastYear ? null : $"is outside the years {FirstYear} to {LastYear}; check the year";

    [GeneratedRegex(@"^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:00)?\z")]
    private static partial Regex LocalForm();

    [GeneratedRegex(@"^[0-9]{4}-[0-9]{2}-[0-9]{2}\z")]
    private static partial Regex DayForm();

    [GeneratedRegex(@"^[0-9]{2}:[0-9]{2}\z")]
    private static partial Regex ClockForm();

    [GeneratedRegex(@"^[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt][0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,9})?([Zz]|[+-][0-9]{2}:[0-9]{2})\z")]
    private static partial Regex OffsetForm();
}
