using System.Globalization;
using NodaTime;
using NodaTime.Text;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Openings;

/// <summary>The times of a night as its pages show them.</summary>
/// <param name="TimeZone">The IANA time zone of the store.</param>
public sealed record NightClock(OffsetDateTime Opens, OffsetDateTime Closes, string TimeZone)
{
    private static readonly LocalDateTimePattern ToTheMinute =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    /// <summary>Times of day are taken from this many hours before the night opens: people may be there before.</summary>
    private const int HoursBefore = 4;

    /// <summary>Whether the clocks are changed between its opening and its closing.</summary>
    public bool ClocksChange => Opens.Offset != Closes.Offset;

    public string Clock(OffsetDateTime time) => WeekLabels.Time(time, ClocksChange);

    public static string Day(OffsetDateTime time) => WeekLabels.Day(time.LocalDateTime);

    /// <summary>From when on the times of day of a form count, and the zone.</summary>
    public string FormNight => string.Create(CultureInfo.InvariantCulture,
        $"{ToTheMinute.Format(Opens.LocalDateTime.PlusHours(-HoursBefore))} {TimeZone}");
}
