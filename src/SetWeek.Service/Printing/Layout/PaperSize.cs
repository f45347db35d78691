namespace SetWeek.Service.Printing.Layout;

/// <summary>A sheet of paper, in millimetres: A3 and A4 by ISO 216, Letter by ANSI/ASME Y14.1 (8.5 by 11 inches).</summary>
public sealed record PaperSize(string Id, double Width, double Height)
{
    public static PaperSize A4 { get; } = new("a4", 210, 297);
    public static PaperSize Letter { get; } = new("letter", 215.9, 279.4);

    public static IReadOnlyList<PaperSize> All { get; } = [A4, Letter];
}
