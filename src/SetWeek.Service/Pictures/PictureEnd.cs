using System.Buffers.Binary;

namespace SetWeek.Service.Pictures;

/// <summary>
/// Finds where the picture in a file ends. A file that is cut off has no end; what follows the end is no part of the picture.
/// </summary>
/// <remarks>
/// JPEG: ITU-T T.81, annex B. PNG: the PNG specification (third edition), section 5. WebP: RFC 9649, section 2.
/// </remarks>
internal static class PictureEnd
{
    private const byte Marker = 0xFF, StartOfImage = 0xD8, EndOfImage = 0xD9, StartOfScan = 0xDA, Temporary = 0x01;

    /// <returns>The number of bytes up to the end of the picture; null if the file is cut off or damaged.</returns>
    public static int? Of(PictureKind kind, ReadOnlySpan<byte> file) => kind switch
    {
        PictureKind.Jpeg => OfJpeg(file),
        PictureKind.Png => OfPng(file),
        PictureKind.WebP => OfWebP(file),
    };

    private static int? OfJpeg(ReadOnlySpan<byte> file)
    {
        for (var at = 2; at + 1 < file.Length;)
        {
            if (file[at] != Marker) return null;
            var marker = file[at + 1];
            at += marker == Marker ? 1 : 2; // any number of FF may fill the space before a marker
            if (marker == EndOfImage) return at;
            if (marker is Marker or StartOfImage or Temporary || IsRestart(marker)) continue;
            if (at + 2 > file.Length) return null;
            at += BinaryPrimitives.ReadUInt16BigEndian(file[at..]);
            if (marker == StartOfScan) at = EndOfScan(file, at);
        }
        return null;
    }

    /// <summary>The next marker after coded data, in which FF is followed by 00 or by a restart marker.</summary>
    private static int EndOfScan(ReadOnlySpan<byte> file, int from)
    {
        for (var at = from; at + 1 < file.Length; at++)
        {
            var next = file[at..].IndexOf(Marker);
            if (next < 0 || at + next + 1 >= file.Length) break;
            at += next;
            if (file[at + 1] != 0 && !IsRestart(file[at + 1])) return at;
        }
        return file.Length;
    }

    private static bool IsRestart(byte marker) => marker is >= 0xD0 and <= 0xD7;

    private static int? OfPng(ReadOnlySpan<byte> file)
    {
        const int head = 8, around = 12; // the length, the type and the checksum of a chunk
        for (long at = head; at + around <= file.Length;)
        {
            var chunk = file[(int)at..];
            var end = at + around + BinaryPrimitives.ReadUInt32BigEndian(chunk);
            if (end > file.Length) return null;
            if (chunk[4..8].SequenceEqual("IEND"u8)) return (int)end;
            at = end;
        }
        return null;
    }

    private static int? OfWebP(ReadOnlySpan<byte> file)
    {
        var size = 8 + (long)BinaryPrimitives.ReadUInt32LittleEndian(file[4..]);
        return size <= file.Length ? (int)size : null;
    }
}
