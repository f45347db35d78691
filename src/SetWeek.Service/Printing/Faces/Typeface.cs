using System.Buffers.Binary;
using System.Text;

namespace SetWeek.Service.Printing.Faces;

/// <summary>
/// The widths of a TrueType font, as its file states them (ISO/IEC 14496-22, OpenType): the characters from the table cmap in
/// format 4, which covers U+0000 to U+FFFF, and their advance widths from hmtx.
/// </summary>
public sealed class Typeface
{
    private const int UnicodeBmp = 4;

    private readonly Dictionary<int, double> widths = [];
    private readonly double[] latin = new double[128];

    /// <param name="file">A TrueType font with a Unicode cmap of format 4.</param>
    public Typeface(byte[] file)
    {
        File = file;
        var tables = Enumerable.Range(0, U16(4)).Select(index => 12 + 16 * index)
            .ToDictionary(entry => Encoding.ASCII.GetString(file, entry, 4), entry => (int)U32(entry + 8));
        double unitsPerEm = U16(tables["head"] + 18);
        var (cmap, hmtx, measured) = (tables["cmap"], tables["hmtx"], U16(tables["hhea"] + 34));
        var table = Enumerable.Range(0, U16(cmap + 2)).Select(index => cmap + (int)U32(cmap + 8 + 8 * index))
            .First(start => U16(start) == UnicodeBmp);
        var segments = U16(table + 6) / 2;
        for (var segment = 0; segment < segments; segment++)
        {
            int at(int column) => table + 14 + 2 * (segment + column * segments) + (column > 0 ? 2 : 0);
            var (end, start, delta, offset) = (U16(at(0)), U16(at(1)), U16(at(2)), U16(at(3)));
            for (var code = start; code <= end && code != 0xFFFF; code++)
            {
                var glyph = offset == 0 ? (code + delta) & 0xFFFF : U16(at(3) + offset + 2 * (code - start));
                if (offset != 0 && glyph != 0) glyph = (glyph + delta) & 0xFFFF;
                // Glyphs after the last measured one have its width.
                if (glyph != 0) widths[code] = U16(hmtx + 4 * Math.Min(glyph, measured - 1)) / unitsPerEm;
            }
        }
        for (var code = 0; code < latin.Length; code++) latin[code] = widths.GetValueOrDefault(code);
    }

    /// <summary>The font as it is embedded.</summary>
    public byte[] File { get; }

    public bool Has(Rune character) => widths.ContainsKey(character.Value);

    /// <summary>The advance width of a character that the font has, as a share of the size of the face.</summary>
    public double WidthOf(Rune character) => widths[character.Value];

    /// <summary>The width of a text of printable ASCII characters, as a share of the size of the face; otherwise null.</summary>
    public double? WidthOf(string text)
    {
        var width = 0.0;
        foreach (var character in text)
        {
            if (character is < ' ' or > '~') return null;
            width += latin[character];
        }
        return width;
    }

    private ushort U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(File.AsSpan(at));

    private uint U32(int at) => BinaryPrimitives.ReadUInt32BigEndian(File.AsSpan(at));
}
