using System.Globalization;
using SetWeek.Domain.Hours;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Exports;

/// <summary>The hours of each person and night as CSV, with store-local times.</summary>
public static class HoursCsv
{
    private static readonly string[] Columns =
        ["night", "person", "name", "from", "to", "offset", "planned minutes", "worked minutes"];

    /// <param name="week">The week with its crew, for the names.</param>
    public static string Of(Week week, IEnumerable<PersonHours> hours)
    {
        var words = new WeekLabels(week);
        return CsvTable.Of(Columns, hours.Select(RowOf));

        IEnumerable<string> RowOf(PersonHours row) =>
        [
            row.Night, row.Person, words.Person(row.Person),
            row.Shift is { From: var from } ? ExportedTime.Text(from) : "",
            row.Shift is { To: var to } ? ExportedTime.Text(to) : "",
            row.Shift is { From: var start } ? ExportedTime.Offset(start) : "",
            row.PlannedMinutes.ToString(CultureInfo.InvariantCulture),
            row.WorkedMinutes?.ToString(CultureInfo.InvariantCulture) ?? "",
        ];
    }
}
