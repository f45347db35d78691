using System.Globalization;
using CsvHelper;
using SetWeek.Service.Exports;

namespace SetWeek.Service.Tests.Exports;

/// <summary>A table read back as a spreadsheet does.</summary>
public sealed class WeekCsvTests
{
    [Fact]
    public void Shifts_breaks_and_work_are_rows_with_store_local_times()
    {
        var rows = Read(Table("Ben Marsh"));
        Assert.Equal(
            [
                "monday,2027-03-08 20:00,2027-03-09 00:30,p1,Ben Marsh,,shift,,,,,UTC-05:00",
                "monday,2027-03-08 22:00,2027-03-08 22:30,p1,Ben Marsh,,break,,,,,UTC-05:00",
                "monday,2027-03-08 20:00,2027-03-08 21:00,p1,Ben Marsh,painting,task,wall.paint,1,Paint the wall,Show window,"
                    + "UTC-05:00",
            ],
            rows.Select(row => string.Join(',', row)));
    }

    /// <summary>
    /// OWASP, "CSV Injection": a cell is a formula if it begins with =, +, -, @ or their full-width forms, and a semicolon ends a
    /// cell for some spreadsheets. That leading spaces are skipped is common practice of spreadsheets, no source.
    /// </summary>
    [Theory]
    [InlineData("=1+1"), InlineData(" =1+1"), InlineData("\u00a0=1+1"), InlineData("\uff1d1+1"), InlineData("\uff0b1")]
    [InlineData("\uff0d1"), InlineData("\uff20SUM(A1)"), InlineData("\u200b=1+1"), InlineData("@SUM(A1)"), InlineData("  -1")]
    [InlineData("\t1")]
    public void A_name_that_a_spreadsheet_would_calculate_is_text(string name) =>
        Assert.Equal($"'{name}", Read(Table(name))[0][4]);

    [Fact]
    public void A_semicolon_does_not_end_a_cell()
    {
        var table = Table("Ben;=1+1");
        Assert.Contains("\"Ben;=1+1\"", table, StringComparison.Ordinal);
        Assert.Equal("Ben;=1+1", Read(table)[0][4]);
    }

    private static string Table(string name) => WeekCsv.Of(ExportedPlan.Week(name), ExportedPlan.Plan);

    private static List<string[]> Read(string table)
    {
        using var csv = new CsvParser(new StringReader(table), CultureInfo.InvariantCulture);
        var rows = new List<string[]>();
        while (csv.Read()) rows.Add(csv.Record!);
        return rows[1..];
    }
}
