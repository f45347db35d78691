using System.Globalization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Exports;

/// <summary>
/// A plan as CSV, with store-local times. Each shift and each break has a row. Each piece of work has a row for each of its
/// people; work without people has one row.
/// </summary>
public static class WeekCsv
{
    private static readonly string[] Columns =
        ["night", "from", "to", "person", "name", "skill", "kind", "task", "stint", "work", "zone", "offset"];

    public static string Of(Week week, Plan plan)
    {
        var words = new WeekLabels(week);
        return CsvTable.Of(Columns, plan.Nights.SelectMany(RowsOf));

        IEnumerable<IEnumerable<string>> RowsOf(PlannedNight night)
        {
            foreach (var shift in PlanRows.Shifts(night))
            {
                yield return RowOf(night, shift.From, shift.To, shift.Person, "shift");
                if (shift.Break is { } pause) yield return RowOf(night, pause.From, pause.To, shift.Person, "break");
            }
            foreach (var (work, person) in PlanRows.Work(night))
                yield return RowOf(night, work.From, work.To, person?.Person, PlanRows.KindOf(work), person?.Skill, work);
        }

        IEnumerable<string> RowOf(PlannedNight night, OffsetDateTime from, OffsetDateTime to, string? person, string kind,
            string? skill = null, PlannedWork? work = null) =>
        [
            night.Night, ExportedTime.Text(from), ExportedTime.Text(to),
            person ?? "", person is null ? "" : words.Person(person), skill ?? "", kind, work?.Task ?? "",
            work?.Stint?.ToString(CultureInfo.InvariantCulture) ?? "", work is null ? "" : words.Work(work),
            work is null ? "" : words.ZoneOf(work), ExportedTime.Offset(from),
        ];
    }
}
