using System.Buffers.Binary;
using System.IO.Compression;
using SkiaSharp;

namespace SetWeek.Service.Tests.Photos;

/// <summary>Picture files for tests: good ones, and ones that are made to do harm.</summary>
public static class TestPictures
{
    public static readonly SKColor TopLeft = SKColors.Red, TopRight = SKColors.Lime, BottomLeft = SKColors.Blue,
        BottomRight = SKColors.Yellow;

    public static byte[] Jpeg(int width = 80, int height = 40) => Encoded(SKEncodedImageFormat.Jpeg, width, height);

    public static byte[] Png(int width = 80, int height = 40) => Encoded(SKEncodedImageFormat.Png, width, height);

    public static byte[] WebP(int width = 80, int height = 40) => Encoded(SKEncodedImageFormat.Webp, width, height);

    /// <summary>A picture of four colours, one in each quarter.</summary>
    private static byte[] Encoded(SKEncodedImageFormat format, int width, int height)
    {
        using var bitmap = new SKBitmap(width, height);
        using (var canvas = new SKCanvas(bitmap))
        {
            var (x, y) = (width / 2f, height / 2f);
            foreach (var (left, top, colour) in new[]
                { (0f, 0f, TopLeft), (x, 0f, TopRight), (0f, y, BottomLeft), (x, y, BottomRight) })
            {
                using var paint = new SKPaint { Color = colour };
                canvas.DrawRect(left, top, x, y, paint);
            }
        }
        using var data = bitmap.Encode(format, 95);
        return data.ToArray();
    }

    /// <summary>
    /// A JPEG with an EXIF block as cameras write it: orientation, maker, and where it was taken (CIPA DC-008, EXIF 2.3, sections
    /// 4.5.4, 4.6.4 and 4.6.6; the structure is that of TIFF 6.0).
    /// </summary>
    public static byte[] WithExif(byte[] jpeg, ushort orientation, string maker)
    {
        var name = System.Text.Encoding.ASCII.GetBytes(maker + "\0");
        const int entries = 3, ifd = 8, entry = 12;
        var makerAt = ifd + 2 + entries * entry + 4;
        var gps = makerAt + name.Length;
        const int gpsEntries = 4;
        var latitude = gps + 2 + gpsEntries * entry + 4;
        var tiff = new byte[latitude + 2 * 24];
        "MM"u8.CopyTo(tiff);
        Put16(2, 42);
        Put32(4, ifd);
        Put16(ifd, entries);
        Entry(ifd + 2, 0x010F, 2, (uint)name.Length, (uint)makerAt); // Make, ASCII
        Entry(ifd + 2 + entry, 0x0112, 3, 1, (uint)orientation << 16); // Orientation, SHORT
        Entry(ifd + 2 + 2 * entry, 0x8825, 4, 1, (uint)gps); // GPSInfo, LONG
        name.CopyTo(tiff, makerAt);
        Put16(gps, gpsEntries);
        Entry(gps + 2, 0x0001, 2, 2, (uint)'N' << 24); // GPSLatitudeRef
        Entry(gps + 2 + entry, 0x0002, 5, 3, (uint)latitude); // GPSLatitude, RATIONAL
        Entry(gps + 2 + 2 * entry, 0x0003, 2, 2, (uint)'W' << 24); // GPSLongitudeRef
        Entry(gps + 2 + 3 * entry, 0x0004, 5, 3, (uint)latitude + 24); // GPSLongitude
        foreach (var (index, value) in ((uint[])[51, 1, 30, 1, 2635, 100, 0, 1, 7, 1, 3912, 100]).Index())
            Put32(latitude + 4 * index, value);
        return WithSegment(jpeg, 0xE1, [.. "Exif\0\0"u8, .. tiff]);

        void Entry(int at, ushort tag, ushort type, uint count, uint value)
        {
            Put16(at, tag);
            Put16(at + 2, type);
            Put32(at + 4, count);
            Put32(at + 8, value);
        }

        void Put16(int at, int value) => BinaryPrimitives.WriteUInt16BigEndian(tiff.AsSpan(at), (ushort)value);

        void Put32(int at, uint value) => BinaryPrimitives.WriteUInt32BigEndian(tiff.AsSpan(at), value);
    }

    /// <summary>The JPEG with a segment after its first marker (ITU-T T.81, annex B).</summary>
    public static byte[] WithSegment(byte[] jpeg, byte marker, byte[] content) =>
    [
        .. jpeg[..2], 0xFF, marker, (byte)((content.Length + 2) >> 8), (byte)(content.Length + 2), .. content, .. jpeg[2..],
    ];

    /// <summary>A PNG that is valid but for its pixels: some bytes that say they are a picture of this size.</summary>
    public static byte[] PngOfSize(uint width, uint height)
    {
        var header = new byte[13];
        BinaryPrimitives.WriteUInt32BigEndian(header, width);
        BinaryPrimitives.WriteUInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (8, 2); // eight bits, red, green and blue
        using var zeros = new MemoryStream();
        using (var pack = new ZLibStream(zeros, CompressionLevel.SmallestSize, leaveOpen: true)) pack.Write(new byte[1_000_000]);
        return
        [
            0x89, .. "PNG\r\n"u8, 0x1A, (byte)'\n', .. Chunk("IHDR"u8, header), .. Chunk("IDAT"u8, zeros.ToArray()), .. Chunk("IEND"u8, []),
        ];

        static byte[] Chunk(ReadOnlySpan<byte> type, byte[] content)
        {
            byte[] named = [.. type, .. content];
            var (length, sum) = (new byte[4], new byte[4]);
            BinaryPrimitives.WriteUInt32BigEndian(length, (uint)content.Length);
            BinaryPrimitives.WriteUInt32BigEndian(sum, Checksum(named));
            return [.. length, .. named, .. sum];
        }
    }

    /// <summary>The PNG specification (third edition), section 5.5 and annex D: CRC-32 with the polynomial of ISO 3309.</summary>
    private static uint Checksum(byte[] bytes)
    {
        var sum = uint.MaxValue;
        foreach (var value in bytes)
        {
            sum ^= value;
            for (var bit = 0; bit < 8; bit++) sum = (sum & 1) == 1 ? 0xEDB88320 ^ (sum >> 1) : sum >> 1;
        }
        return ~sum;
    }
}
