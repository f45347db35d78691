using OneOf;
using SetWeek.Domain;
using SkiaSharp;

namespace SetWeek.Service.Pictures;

/// <summary>
/// Reads a file that somebody sent as a photograph, and makes a new picture of its pixels. The file may be made to do harm: its
/// header is read first, and its pixels only if they fit the limits (docs/decisions/photos.md).
/// </summary>
public static class PictureReader
{
    /// <summary>
    /// The most pixels that a file may state, and the most that are decoded. JPEG and WebP are decoded smaller.
    /// </summary>
    private const int MostPixels = 50_000_000, MostDecoded = 20_000_000;

    /// <summary>The longest side that a file may state.</summary>
    private const int LongestStated = 16_384;

    /// <summary>A progressive JPEG has some ten scans. Each is decoded over the whole picture.</summary>
    private const int MostScans = 100;

    private const int Quality = 84, ThumbnailQuality = 78;

    /// <summary>How documents and programs begin. A file that is a picture and one of these too is refused.</summary>
    private static readonly IReadOnlyList<byte[]> Documents =
    [
        .. new[] { "PK\u0003\u0004", "%PDF-", "<?php", "<?xml", "<!doctype", "<html", "<script", "<svg", "#!/" }
            .Select(System.Text.Encoding.ASCII.GetBytes),
    ];

    /// <param name="file">The file as it was sent.</param>
    /// <returns>The picture, or the sentence for whoever took it.</returns>
    public static OneOf<Picture, Refusal> Read(ReadOnlyMemory<byte> file)
    {
        if (file.Length == 0) return new Refusal("photo-empty", "The file of the photograph is empty. Take it again.");
        if (file.Length > Picture.MaxBytes)
            return new Refusal("photo-too-large", $"The photograph has {file.Length:N0} bytes; at most {Picture.MaxBytes:N0} are "
                + "accepted. Take it with a lower resolution.");
        if (PictureKinds.Of(file.Span) is not { } kind)
            return new Refusal("photo-unknown-form", "The file is no photograph in a form that is read. Send JPEG, PNG or WebP.");
        if (PictureEnd.Of(kind, file.Span) is not { } end) return Damaged;
        if (HasDocument(file.Span[end..]))
            return new Refusal("photo-and-document",
                "The file holds a document after the photograph. Send the photograph alone.");
        if (kind == PictureKind.Jpeg && file.Span[..end].Count((ReadOnlySpan<byte>)[0xFF, 0xDA]) > MostScans) return Damaged;
        using var data = SKData.CreateCopy(file.Span[..end]);
        using var codec = SKCodec.Create(data);
        return codec is null ? Damaged : Read(codec);
    }

    private static OneOf<Picture, Refusal> Read(SKCodec codec)
    {
        var stated = codec.Info;
        if (stated.Width > LongestStated || stated.Height > LongestStated || (long)stated.Width * stated.Height > MostPixels)
            return TooManyPixels(stated);
        var size = DecodedSize(codec);
        if ((long)size.Width * size.Height > MostDecoded) return TooManyPixels(stated);
        using var space = SKColorSpace.CreateSrgb();
        using var decoded = new SKBitmap(new SKImageInfo(
            size.Width, size.Height, SKColorType.Rgba8888, SKAlphaType.Premul, space));
        if (codec.GetPixels(decoded.Info, decoded.GetPixels()) != SKCodecResult.Success) return Damaged;
        using var upright = Upright(decoded, codec.EncodedOrigin, Picture.LongestSide);
        using var thumbnail = Upright(upright, SKEncodedOrigin.TopLeft, Picture.LongestThumbnailSide);
        return new Picture(Jpeg(upright, Quality), Jpeg(thumbnail, ThumbnailQuality), upright.Width, upright.Height);
    }

    /// <summary>The smallest size in which the codec can decode the picture and which has the pixels that are wanted.</summary>
    private static SKSizeI DecodedSize(SKCodec codec)
    {
        var size = new SKSizeI(codec.Info.Width, codec.Info.Height);
        foreach (var part in (float[])[1 / 2f, 1 / 4f, 1 / 8f])
        {
            var smaller = codec.GetScaledDimensions(part);
            if (Math.Max(smaller.Width, smaller.Height) < Picture.LongestSide) break;
            size = smaller;
        }
        return size;
    }

    /// <summary>The picture as it is looked at, on white, and no larger than is wanted.</summary>
    /// <param name="origin">Where the first pixel lies: the orientation of EXIF (CIPA DC-008, tag 0x0112).</param>
    private static SKBitmap Upright(SKBitmap picture, SKEncodedOrigin origin, int longestSide)
    {
        var scale = Math.Min(1f, (float)longestSide / Math.Max(picture.Width, picture.Height));
        var (width, height) = (Math.Max(1, (int)MathF.Round(picture.Width * scale)),
            Math.Max(1, (int)MathF.Round(picture.Height * scale)));
        var lies = origin is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom
            or SKEncodedOrigin.LeftBottom;
        var upright = new SKBitmap(new SKImageInfo(lies ? height : width, lies ? width : height, SKColorType.Rgba8888,
            SKAlphaType.Premul, picture.ColorSpace));
        using var canvas = new SKCanvas(upright);
        using var image = SKImage.FromBitmap(picture);
        canvas.Clear(SKColors.White);
        canvas.SetMatrix(MatrixOf(origin, width, height));
        canvas.DrawImage(image, new SKRect(0, 0, width, height), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        return upright;
    }

    /// <summary>From the pixels as they are stored, of the given size, to the picture as it is looked at.</summary>
    private static SKMatrix MatrixOf(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new SKMatrix(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new SKMatrix(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new SKMatrix(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new SKMatrix(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new SKMatrix(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new SKMatrix(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new SKMatrix(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => SKMatrix.Identity,
    };

    private static byte[] Jpeg(SKBitmap picture, int quality)
    {
        using var encoded = picture.Encode(SKEncodedImageFormat.Jpeg, quality);
        return encoded.ToArray();
    }

    private static bool HasDocument(ReadOnlySpan<byte> rest)
    {
        if (rest.IsEmpty) return false;
        var lower = rest.ToArray();
        for (var at = 0; at < lower.Length; at++)
            if (lower[at] is >= (byte)'A' and <= (byte)'Z'
                and not (byte)'P' and not (byte)'K' and not (byte)'D' and not (byte)'F')
                lower[at] |= 0x20;
        return Documents.Any(start => lower.AsSpan().IndexOf(start) >= 0);
    }

    private static Refusal TooManyPixels(SKImageInfo stated) => new("photo-too-many-pixels",
        $"The photograph says that it has {stated.Width:N0} x {stated.Height:N0} pixels, which is more than is read. "
        + "Take it with a lower resolution.");

    private static Refusal Damaged => new("photo-damaged",
        "The file of the photograph is cut off or damaged. Send it again, or take it again.");
}
