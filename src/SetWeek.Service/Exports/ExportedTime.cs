using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace SetWeek.Service.Exports;

/// <summary>Store-local times as spreadsheets take them.</summary>
public static class ExportedTime
{
    private static readonly LocalDateTimePattern Local =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd' 'HH':'mm");

    public static string Text(OffsetDateTime time) => Local.Format(time.LocalDateTime);

    /// <summary>The offset tells the two equal hours apart when clocks go back. "UTC" keeps the cell a text.</summary>
    public static string Offset(OffsetDateTime time) => time.Offset.ToString("'UTC'+HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A date-time of a spreadsheet has no offset.</summary>
    public static DateTime Cell(OffsetDateTime time) => time.LocalDateTime.ToDateTimeUnspecified();
}
