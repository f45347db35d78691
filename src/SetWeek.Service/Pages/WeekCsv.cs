using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>
/// A plan as CSV (RFC 4180), with store-local times. Each shift and each break has a row. Each piece of work has a row for each
/// of its people; work without people has one row.
/// </summary>
public static class WeekCsv
{
    public const string ContentType = "text/csv; charset=utf-8; header=present";

    private static readonly string[] Columns =
        ["night", "from", "to", "person", "name", "skill", "kind", "task", "stint", "work", "zone", "offset"];

    private static readonly LocalDateTimePattern Local =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd' 'HH':'mm");

    // Spreadsheets of some countries separate cells by semicolons.
    private static readonly CsvConfiguration Format = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\r\n",
        ShouldQuote = cell => ConfigurationFunctions.ShouldQuote(cell) || cell.Field?.AsSpan().IndexOfAny(';', '\t') >= 0,
    };

    public static string Of(Week week, Plan plan)
    {
        var words = new WeekLabels(week);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, Format);
        WriteRow(csv, Columns);
        foreach (var night in plan.Nights)
        {
            foreach (var shift in night.Shifts.OrderBy(shift => shift.From.ToInstant())
                .ThenBy(shift => shift.Person, StringComparer.Ordinal))
            {
                WriteRow(csv, RowOf(night, shift.From, shift.To, shift.Person, "shift"));
                if (shift.Break is { } pause) WriteRow(csv, RowOf(night, pause.From, pause.To, shift.Person, "break"));
            }
            foreach (var work in night.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant()))
                foreach (var assigned in work.People.Select(person => (PlannedPerson?)person).DefaultIfEmpty())
                    WriteRow(csv, RowOf(night, work.From, work.To, assigned?.Person,
                        work.CleanDown is null ? "task" : "clean-down", assigned?.Skill, work));
        }
        csv.Flush();
        return text.ToString();

        IEnumerable<string> RowOf(PlannedNight night, OffsetDateTime from, OffsetDateTime to, string? person, string kind,
            string? skill = null, PlannedWork? work = null) =>
        [
            night.Night, Local.Format(from.LocalDateTime), Local.Format(to.LocalDateTime),
            person ?? "", person is null ? "" : words.Person(person), skill ?? "", kind, work?.Task ?? "",
            work?.Stint?.ToString(CultureInfo.InvariantCulture) ?? "", work is null ? "" : words.Work(work),
            work is null ? "" : words.ZoneOf(work),
            // The offset of the start tells the two equal hours apart when clocks go back. "UTC" keeps the cell a text.
            from.Offset.ToString("'UTC'+HH:mm", CultureInfo.InvariantCulture),
        ];
    }

    /// <summary>
    /// The text of a cell. A spreadsheet would read one that begins with an operator as a formula, also after spaces or a control
    /// character and with the wide forms of the operators; an apostrophe makes it text.
    /// </summary>
    private static string Cell(string text)
    {
        var first = text.AsSpan().TrimStart().TrimStart("\u200b\u200c\u200d\u2060\ufeff").TrimStart();
        var isFormula = (first.Length > 0 && "=+-@\uff1d\uff0b\uff0d\uff20".Contains(first[0]))
            || (text.Length > 0 && char.IsControl(text[0]));
        return isFormula ? $"'{text}" : text;
    }

    private static void WriteRow(CsvWriter csv, IEnumerable<string> cells)
    {
        foreach (var cell in cells) csv.WriteField(Cell(cell));
        csv.NextRecord();
    }
}
