using PdfSharp.Fonts;
using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Drawing;

/// <summary>
/// Gives the PDF writer the embedded typefaces. It asks by family, and the family is the name of a <see cref="Face"/>. The
/// writer knows one resolver for the whole process, and looks for no fonts of the system with it.
/// </summary>
internal sealed class PaperFonts : IFontResolver
{
    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
        Enum.TryParse<Face>(familyName, ignoreCase: true, out var face) ? new FontResolverInfo(face.ToString()) : null;

    public byte[]? GetFont(string faceName) => Typefaces.Of(Enum.Parse<Face>(faceName)).File;
}
