using System.Globalization;
using System.Text;
using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages;

/// <summary>A plan as a table, a row a person's piece of work (RFC 4180).</summary>
public static class WeekCsv
{
    public const string ContentType = "text/csv; charset=utf-8; header=present";

    private static readonly string[] Columns =
        ["night", "from", "to", "person", "name", "skill", "kind", "task", "stint", "work", "zone"];

    public static string Of(Week week, Plan plan)
    {
        var words = new WeekLabels(week);
        var text = new StringBuilder();
        Line(text, Columns);
        foreach (var night in plan.Nights)
            foreach (var work in night.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant()))
                foreach (var one in work.People.Select(one => (PlannedPerson?)one).DefaultIfEmpty())
                    Line(text,
                    [
                        night.Night, Time(work.From), Time(work.To),
                        one?.Person ?? "", one is null ? "" : words.Person(one.Person), one?.Skill ?? "",
                        work.CleanDown is null ? "task" : "clean-down", work.Task ?? "",
                        work.Stint?.ToString(CultureInfo.InvariantCulture) ?? "", words.Work(work), words.ZoneOf(work),
                    ]);
        return text.ToString();
    }

    private static string Time(OffsetDateTime time) => OffsetDateTimePattern.Rfc3339.Format(time);

    private static void Line(StringBuilder text, IEnumerable<string> cells) =>
        text.AppendJoin(',', cells.Select(Cell)).Append("\r\n");

    /// <summary>A cell that a spreadsheet would take for a formula begins with an apostrophe: it is text.</summary>
    private static string Cell(string value)
    {
        if (value.Length > 0 && value[0] is '=' or '+' or '-' or '@' or '\t' or '\r' or '\n') value = $"'{value}";
        return value.AsSpan().IndexOfAny("\",\r\n") < 0 ? value : $"\"{value.Replace("\"", "\"\"")}\"";
    }
}
