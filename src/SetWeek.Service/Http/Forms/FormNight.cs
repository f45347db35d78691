using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Http.Forms;

/// <summary>A night whose times of day a form states: a person types "00:10", not the date.</summary>
/// <param name="From">The store's date and time from which the times count, some hours before the night opens.</param>
internal sealed record FormNight(LocalDateTime From, DateTimeZone Zone)
{
    private static readonly LocalDateTimePattern Start = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-ddTHH:mm");
    private static readonly LocalTimePattern TimeOfDay = LocalTimePattern.CreateWithInvariantCulture("H:mm");

    /// <param name="text">Such as "2027-03-08T16:00 Europe/London".</param>
    /// <returns>Null if the text is none.</returns>
    public static FormNight? Of(string? text) => text?.Split(' ') is [var from, var zone]
        && Start.Parse(from) is { Success: true } start && DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is { } known
            ? new FormNight(start.Value, known) : null;

    /// <summary>
    /// The first moment from the start on at which the store's clock shows the time of day. Of two, as when the clock is put
    /// back, it is the first; a time that the clock skips is read as RFC 5545 does.
    /// </summary>
    /// <returns>Null if the text is no time of day.</returns>
    public string? TimeOf(string text)
    {
        if (TimeOfDay.Parse(text) is not { Success: true, Value: var time }) return null;
        var day = time >= From.TimeOfDay ? From.Date : From.Date.PlusDays(1);
        return OffsetDateTimePattern.Rfc3339.Format((day + time).InZoneLeniently(Zone).ToOffsetDateTime());
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Start.Format(From)} {Zone.Id}");
}
