using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using NodaTime;
using PdfSharp.Drawing;
using PdfSharp.Fonts;
using PdfSharp.Pdf;
using SetWeek.Service.Printing.Faces;

namespace SetWeek.Service.Printing.Drawing;

/// <summary>
/// A PDF file with embedded fonts. The same pages, title and time give the same bytes: what the writer would take from a clock or
/// from chance is set here.
/// </summary>
internal sealed partial class PdfFile : IDisposable
{
    public const string ContentType = "application/pdf";

    private const double PointsInMillimetre = 1 / Typefaces.Point;

    private static readonly string[] FontNames = ["/FontName", "/BaseFont"];

    private readonly PdfDocument document = new();
    private readonly Dictionary<(Face, double), XFont> fonts = [];
    private readonly StringBuilder content = new();

    static PdfFile() => GlobalFontSettings.FontResolver = new PaperFonts();

    /// <param name="made">The time that the file states as that of its making.</param>
    public PdfFile(string title, Instant made)
    {
        document.Info.Title = title;
        document.Info.Creator = "SetWeek";
        document.Info.CreationDate = made.ToDateTimeUtc();
        content.Append(title).Append(made);
    }

    /// <summary>Adds a page and draws it; lengths are in millimetres.</summary>
    public void Add(double width, double height, Action<PdfCanvas> draw)
    {
        var page = document.AddPage();
        page.Width = XUnit.FromMillimeter(width);
        page.Height = XUnit.FromMillimeter(height);
        using var graphics = XGraphics.FromPdfPage(page);
        graphics.ScaleTransform(PointsInMillimetre);
        draw(new PdfCanvas(graphics, FontOf, content));
    }

    public byte[] Bytes()
    {
        var hash = SHA256.HashData(Encoding.UTF8.GetBytes(content.ToString())).AsSpan(0, 16);
        var id = Encoding.Latin1.GetString(hash);
        (document.Internals.FirstDocumentID, document.Internals.SecondDocumentID) = (id, id);
        foreach (var dictionary in document.Internals.GetAllObjects().OfType<PdfDictionary>())
            foreach (var key in FontNames)
                if (dictionary.Elements.GetName(key) is { Length: > 8 } name && SubsetName().IsMatch(name))
                    dictionary.Elements.SetName(key, $"/{TagOf(name[8..])}+{name[8..]}");
        using var file = new MemoryStream();
        document.Save(file, closeStream: false);
        var bytes = file.ToArray();
        SetIds(bytes, new Guid(hash).ToString());
        return bytes;
    }

    /// <summary>The writer always adds metadata (XMP), in which it names the file by two random ids of one length.</summary>
    private static void SetIds(Span<byte> file, string id)
    {
        var mark = "uuid:"u8;
        for (int at; (at = file.IndexOf(mark)) >= 0;)
        {
            file = file[(at + mark.Length)..];
            Encoding.ASCII.GetBytes(id, file);
        }
    }

    public void Dispose() => document.Dispose();

    /// <summary>
    /// The writer names a subset by six random letters (ISO 32000-1, section 9.6.4). Here they follow from the font, of which a
    /// file has one subset.
    /// </summary>
    private static string TagOf(string font) =>
        new([.. SHA256.HashData(Encoding.UTF8.GetBytes(font)).Take(6).Select(part => (char)('A' + part % 26))]);

    /// <summary>Sizes are in millimetres, as all lengths of a page.</summary>
    private XFont FontOf(Face face, double size)
    {
        if (!fonts.TryGetValue((face, size), out var font))
            fonts[(face, size)] = font = new XFont(face.ToString(), size, XFontStyleEx.Regular, XPdfFontOptions.UnicodeDefault);
        return font;
    }

    [GeneratedRegex("^/[A-Z]{6}[+]")]
    private static partial Regex SubsetName();
}
