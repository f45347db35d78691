using SetWeek.Domain.Hours;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using SpreadCheetah;
using SpreadCheetah.Styling;
using SpreadCheetah.Worksheets;

namespace SetWeek.Service.Exports;

/// <summary>
/// A plan as a workbook (Office Open XML, ECMA-376) with three sheets: the work, the shifts, the hours of each person and night.
/// Times are store-local date-times, each with its offset as text. Every text is a text cell and never a formula, whatever it
/// begins with, so it is written as it is. There is no pay in it.
/// </summary>
public static class WeekWorkbook
{
    public const string ContentType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

    private static readonly SpreadCheetahOptions Options = new()
    {
        DefaultDateTimeFormat = NumberFormat.Custom("yyyy-mm-dd hh:mm"),
        PreserveStringWhitespace = true,
    };

    private static readonly (string Name, double Width)[] PlanColumns =
    [
        ("night", 14), ("from", 17), ("to", 17), ("offset", 11), ("person", 10), ("name", 24), ("skill", 14), ("kind", 12),
        ("task", 24), ("stint", 7), ("work", 34), ("zone", 24),
    ],
    ShiftColumns =
    [
        ("night", 14), ("from", 17), ("to", 17), ("offset", 11), ("person", 10), ("name", 24), ("break from", 17),
        ("break to", 17), ("paid minutes", 13),
    ],
    HoursColumns =
    [
        ("night", 14), ("person", 10), ("name", 24), ("planned minutes", 17), ("worked minutes", 17),
    ];

    /// <param name="week">The week with its crew, for the names.</param>
    public static async Task<byte[]> Of(Week week, Plan plan, IReadOnlyList<PersonHours> hours, CancellationToken cancelled)
    {
        var words = new WeekLabels(week);
        using var bytes = new MemoryStream();
        await using var book = await Spreadsheet.CreateNewAsync(bytes, Options, cancelled);
        var heading = book.AddStyle(new Style { Font = { Bold = true } });

        await Add("plan", PlanColumns, plan.Nights.SelectMany(night => PlanRows.Work(night), (night, row) => (Cell[])
        [
            new(night.Night), new(ExportedTime.Cell(row.Work.From)), new(ExportedTime.Cell(row.Work.To)),
            new(ExportedTime.Offset(row.Work.From)), new(row.Person?.Person), new(NameOf(row.Person?.Person)),
            new(row.Person?.Skill), new(PlanRows.KindOf(row.Work)), new(row.Work.Task), new(row.Work.Stint),
            new(words.Work(row.Work)), new(words.ZoneOf(row.Work)),
        ]));
        await Add("shifts", ShiftColumns, plan.Nights.SelectMany(PlanRows.Shifts, (night, shift) => (Cell[])
        [
            new(night.Night), new(ExportedTime.Cell(shift.From)), new(ExportedTime.Cell(shift.To)),
            new(ExportedTime.Offset(shift.From)), new(shift.Person), new(NameOf(shift.Person)),
            new(shift.Break is { } begin ? ExportedTime.Cell(begin.From) : null),
            new(shift.Break is { } end ? ExportedTime.Cell(end.To) : null),
            new(new PersonHours(night.Night, shift.Person, shift, null).PlannedMinutes),
        ]));
        await Add("hours", HoursColumns, hours.Select(row => (Cell[])
        [
            new(row.Night), new(row.Person), new(NameOf(row.Person)), new(row.PlannedMinutes), new(row.WorkedMinutes),
        ]));
        await book.FinishAsync(cancelled);
        return bytes.ToArray();

        string? NameOf(string? person) => person is null ? null : words.Person(person);

        async Task Add(string sheet, (string Name, double Width)[] columns, IEnumerable<Cell[]> rows)
        {
            var options = new WorksheetOptions { FrozenRows = 1 };
            foreach (var (index, column) in columns.Index()) options.Column(index + 1).Width = column.Width;
            await book.StartWorksheetAsync(sheet, options, cancelled);
            await book.AddHeaderRowAsync([.. columns.Select(column => column.Name)], heading, cancelled);
            foreach (var row in rows) await book.AddRowAsync(row, cancelled);
        }
    }
}
