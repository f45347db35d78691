using System.Globalization;
using System.IO.Compression;
using System.Xml.Linq;

namespace SetWeek.Service.Tests.Exports;

/// <summary>
/// Reads a workbook by its parts alone, without the library that wrote it: a zip with SpreadsheetML (ECMA-376, part 1).
/// </summary>
internal sealed class SheetReader : IDisposable
{
    private static readonly XNamespace Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
        Relation = "http://schemas.openxmlformats.org/officeDocument/2006/relationships",
        Package = "http://schemas.openxmlformats.org/package/2006/relationships";

    private readonly ZipArchive zip;

    public SheetReader(byte[] bytes) => zip = new ZipArchive(new MemoryStream(bytes));

    public IReadOnlyList<string> Sheets =>
        [.. Part("xl/workbook.xml").Descendants(Main + "sheet").Select(sheet => (string)sheet.Attribute("name")!)];

    /// <summary>Every element of the sheets that holds a formula (section 18.3.1.40, and that of arrays and tables).</summary>
    public int Formulas => zip.Entries.Where(entry => entry.FullName.EndsWith(".xml", StringComparison.Ordinal))
        .Sum(entry => Part(entry.FullName).Descendants()
            .Count(element => element.Name.LocalName is "f" or "calculatedColumnFormula"));

    public IReadOnlyList<IReadOnlyList<SheetCell>> Rows(string sheet)
    {
        var id = (string)Part("xl/workbook.xml").Descendants(Main + "sheet")
            .Single(listed => (string)listed.Attribute("name")! == sheet).Attribute(Relation + "id")!;
        var target = (string)Part("xl/_rels/workbook.xml.rels").Descendants(Package + "Relationship")
            .Single(listed => (string)listed.Attribute("Id")! == id).Attribute("Target")!;
        return [.. Part($"xl/{target.TrimStart('/').Replace("xl/", "")}").Descendants(Main + "row")
            .Select(row => (IReadOnlyList<SheetCell>)[.. row.Elements(Main + "c").Select(Cell)])];
    }

    public void Dispose() => zip.Dispose();

    /// <summary>Section 18.18.11: a cell without a type is a number. A text is in the cell (inlineStr) or shared (s).</summary>
    private SheetCell Cell(XElement cell)
    {
        var type = (string?)cell.Attribute("t") ?? "n";
        var value = (string?)cell.Element(Main + "v");
        return type switch
        {
            "inlineStr" => new(type, cell.Element(Main + "is")!.Value, null),
            "s" => new(type, Part("xl/sharedStrings.xml").Descendants(Main + "si")
                .ElementAt(int.Parse(value!, CultureInfo.InvariantCulture)).Value, null),
            _ => new(type, value, FormatOf((int?)cell.Attribute("s") ?? 0)),
        };
    }

    /// <summary>The number format of a style (sections 18.8.10 and 18.8.30); null for a built-in one.</summary>
    private string? FormatOf(int style)
    {
        var styles = Part("xl/styles.xml");
        var format = (int)styles.Descendants(Main + "cellXfs").Elements(Main + "xf").ElementAt(style).Attribute("numFmtId")!;
        return (string?)styles.Descendants(Main + "numFmt").FirstOrDefault(known => (int)known.Attribute("numFmtId")! == format)
            ?.Attribute("formatCode");
    }

    private XDocument Part(string name)
    {
        using var part = zip.GetEntry(name)!.Open();
        return XDocument.Load(part, LoadOptions.PreserveWhitespace);
    }
}

/// <param name="Type">The type of the cell: n for a number, inlineStr or s for a text.</param>
internal sealed record SheetCell(string Type, string? Value, string? Format)
{
    public bool IsText => Type is "inlineStr" or "s";

    /// <summary>A date-time is the number of days since 30 December 1899 (section 18.17.4.1, the 1900 date base).</summary>
    public DateTime Time => new DateTime(1899, 12, 30).AddMinutes(
        Math.Round(double.Parse(Value!, CultureInfo.InvariantCulture) * 24 * 60));
}
