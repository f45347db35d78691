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
/// A plan as CSV (RFC 4180). Each piece of work has a row for each of its people; work without people has one row.
/// </summary>
public static class WeekCsv
{
    public const string ContentType = "text/csv; charset=utf-8; header=present";

    private static readonly string[] Columns =
        ["night", "from", "to", "person", "name", "skill", "kind", "task", "stint", "work", "zone"];

    // A spreadsheet would read a cell that starts with one of these characters as a formula. An apostrophe makes it text.
    private static readonly CsvConfiguration Format = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\r\n", InjectionOptions = InjectionOptions.Escape, InjectionEscapeCharacter = '\'',
        InjectionCharacters = ['=', '+', '-', '@', '\t', '\r', '\n'],
    };

    public static string Of(Week week, Plan plan)
    {
        var words = new WeekLabels(week);
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, Format);
        WriteRow(csv, Columns);
        foreach (var night in plan.Nights)
            foreach (var work in night.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant()))
                foreach (var assigned in work.People.Select(person => (PlannedPerson?)person).DefaultIfEmpty())
                    WriteRow(csv,
                    [
                        night.Night, Time(work.From), Time(work.To),
                        assigned?.Person ?? "", assigned is null ? "" : words.Person(assigned.Person), assigned?.Skill ?? "",
                        work.CleanDown is null ? "task" : "clean-down", work.Task ?? "",
                        work.Stint?.ToString(CultureInfo.InvariantCulture) ?? "", words.Work(work), words.ZoneOf(work),
                    ]);
        csv.Flush();
        return text.ToString();
    }

    private static string Time(OffsetDateTime time) => OffsetDateTimePattern.Rfc3339.Format(time);

    private static void WriteRow(CsvWriter csv, IEnumerable<string> cells)
    {
        foreach (var cell in cells) csv.WriteField(cell);
        csv.NextRecord();
    }
}
