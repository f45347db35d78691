using SetWeek.Domain.Hours;
using SetWeek.Service.Exports;

namespace SetWeek.Service.Tests.Exports;

/// <summary>A workbook read back by its parts.</summary>
public sealed class WeekWorkbookTests
{
    [Fact]
    public async Task The_sheets_are_the_plan_the_shifts_and_the_hours()
    {
        using var book = await Book("Ben Marsh");
        Assert.Equal(["plan", "shifts", "hours"], book.Sheets);
        Assert.Equal(["night", "from", "to", "offset", "person", "name", "skill", "kind", "task", "stint", "work", "zone"],
            book.Rows("plan")[0].Select(cell => cell.Value));
        Assert.Equal(["UTC-05:00", "p1", "Ben Marsh", "painting", "task", "wall.paint", "1", "Paint the wall", "Show window"],
            book.Rows("plan")[1].Skip(3).Select(cell => cell.Value));
        Assert.Equal(["p1", "Ben Marsh"], book.Rows("shifts")[1].Skip(4).Take(2).Select(cell => cell.Value));
        Assert.Equal("240", book.Rows("shifts")[1][8].Value);
        Assert.Equal(["monday", "p1", "Ben Marsh", "240", "55"], book.Rows("hours")[1].Select(cell => cell.Value));
    }

    [Fact]
    public async Task Times_are_date_times_of_the_store_and_say_their_offset()
    {
        using var book = await Book("Ben Marsh");
        var shift = book.Rows("shifts")[1];
        Assert.Equal(
            new DateTime[] { new(2027, 3, 8, 20, 0, 0), new(2027, 3, 9, 0, 30, 0), new(2027, 3, 8, 22, 0, 0),
                new(2027, 3, 8, 22, 30, 0) },
            new[] { shift[1], shift[2], shift[6], shift[7] }.Select(cell => cell.Time));
        Assert.All(new[] { shift[1], shift[2], shift[6], shift[7] },
            cell => Assert.Equal(("n", "yyyy-mm-dd hh:mm"), (cell.Type, cell.Format)));
        Assert.Equal(("UTC-05:00", true), (shift[3].Value, shift[3].IsText));
    }

    /// <summary>
    /// OWASP, "CSV Injection": these beginnings make a formula of a cell without a type. A text cell of a workbook is none
    /// (ECMA-376, part 1, 18.18.11), so the name is stored as it is.
    /// </summary>
    [Theory]
    [InlineData("=1+1"), InlineData("+1"), InlineData("-1"), InlineData("@SUM(A1)"), InlineData("\t=1"), InlineData("\r=1")]
    [InlineData(" =1+1"), InlineData("=HYPERLINK(\"http://x.example\")"), InlineData("<f>1+1</f>"), InlineData("&amp;")]
    public async Task A_name_is_a_text_whatever_it_begins_with(string name)
    {
        using var book = await Book(name);
        Assert.Equal(0, book.Formulas);
        foreach (var cell in new[] { book.Rows("plan")[1][5], book.Rows("shifts")[1][5], book.Rows("hours")[1][2] })
            Assert.Equal((true, name.Replace('\r', '\n')), (cell.IsText, cell.Value!.Replace('\r', '\n')));
    }

    private static async Task<SheetReader> Book(string name) => new(await WeekWorkbook.Of(
        ExportedPlan.Week(name), ExportedPlan.Plan,
        [new PersonHours("monday", "p1", ExportedPlan.Plan.Nights[0].Shifts[0], 55)], CancellationToken.None));
}
