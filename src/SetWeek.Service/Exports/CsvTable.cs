using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;

namespace SetWeek.Service.Exports;

/// <summary>A table as CSV (RFC 4180) in which a spreadsheet calculates nothing.</summary>
public static class CsvTable
{
    // Spreadsheets of some countries separate cells by semicolons.
    private static readonly CsvConfiguration Format = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\r\n",
        ShouldQuote = cell => ConfigurationFunctions.ShouldQuote(cell) || cell.Field?.AsSpan().IndexOfAny(';', '\t') >= 0,
    };

    public static string Of(IEnumerable<string> columns, IEnumerable<IEnumerable<string>> rows)
    {
        using var text = new StringWriter(CultureInfo.InvariantCulture);
        using var csv = new CsvWriter(text, Format);
        foreach (var row in rows.Prepend(columns))
        {
            foreach (var cell in row) csv.WriteField(Cell(cell));
            csv.NextRecord();
        }
        csv.Flush();
        return text.ToString();
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
}
