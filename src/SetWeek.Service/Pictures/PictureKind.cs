namespace SetWeek.Service.Pictures;

/// <summary>The formats of pictures that are read.</summary>
internal enum PictureKind { Jpeg, Png, WebP }

/// <summary>What the bytes of a file say of its format. What its name or its sender say is not asked.</summary>
internal static class PictureKinds
{
    private static ReadOnlySpan<byte> Jpeg => [0xFF, 0xD8, 0xFF];

    private static ReadOnlySpan<byte> Png => [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A];

    /// <returns>Null for any other format.</returns>
    public static PictureKind? Of(ReadOnlySpan<byte> file) =>
        file.StartsWith(Jpeg) ? PictureKind.Jpeg
        : file.StartsWith(Png) ? PictureKind.Png
        : file.Length >= 12 && file.StartsWith("RIFF"u8) && file[8..12].SequenceEqual("WEBP"u8) ? PictureKind.WebP
        : null;
}
