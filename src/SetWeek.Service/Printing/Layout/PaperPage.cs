using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Layout;

/// <summary>One side of paper: what is drawn on it, in millimetres from its upper left corner.</summary>
public sealed record PaperPage(double Width, double Height, IReadOnlyList<PaperMark> Marks);

/// <summary>Something that is drawn in black.</summary>
public abstract record PaperMark
{
    public abstract PaperMark Moved(double x, double y);
}

/// <param name="Y">The line on which the letters stand.</param>
/// <param name="Size">In points.</param>
/// <param name="Text">Characters that the typeface has.</param>
public sealed record TextMark(double X, double Y, Face Face, double Size, string Text) : PaperMark
{
    public double Width => Typefaces.Width(Text, Face, Size);

    public override PaperMark Moved(double x, double y) => this with { X = X + x, Y = Y + y };
}

/// <param name="Thickness">In millimetres.</param>
public sealed record LineMark(double FromX, double FromY, double ToX, double ToY, double Thickness) : PaperMark
{
    public override PaperMark Moved(double x, double y) =>
        this with { FromX = FromX + x, ToX = ToX + x, FromY = FromY + y, ToY = ToY + y };
}

/// <summary>An empty square to tick.</summary>
public sealed record TickBox(double X, double Y, double Side) : PaperMark
{
    public override PaperMark Moved(double x, double y) => this with { X = X + x, Y = Y + y };
}
