using NodaTime;
using PdfSharp.Drawing;
using SetWeek.Service.Printing.Faces;
using SetWeek.Service.Printing.Layout;
using SetWeek.Service.Printing.Sheets;

namespace SetWeek.Service.Printing.Drawing;

/// <summary>Sheets as a PDF, each beginning a side.</summary>
public static class SheetPdf
{
    public const string ContentType = PdfFile.ContentType;

    /// <param name="made">The time that the file states as that of its making.</param>
    public static byte[] Of(string title, Instant made, IEnumerable<PaperSheet> sheets, PaperSize paper)
    {
        using var file = new PdfFile(title, made);
        foreach (var page in sheets.SelectMany(sheet => SheetLayout.Of(sheet, paper)))
            file.Add(page.Width, page.Height, canvas =>
            {
                foreach (var mark in page.Marks) Draw(canvas, mark);
            });
        return file.Bytes();
    }

    private static void Draw(PdfCanvas canvas, PaperMark mark)
    {
        switch (mark)
        {
            case TextMark text:
                canvas.Text(text.X, text.Y, text.Face, text.Size * Typefaces.Point, text.Text, XColors.Black);
                break;
            case LineMark line:
                canvas.Line(line.FromX, line.FromY, line.ToX, line.ToY, line.Thickness, XColors.Black);
                break;
            case TickBox box:
                canvas.Rectangle(box.X, box.Y, box.Side, box.Side, null, XColors.Black, 0.25);
                break;
            default: throw new ArgumentException($"No drawing is known for {mark.GetType().Name}.", nameof(mark));
        }
    }
}
