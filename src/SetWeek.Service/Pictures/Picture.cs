namespace SetWeek.Service.Pictures;

/// <summary>
/// A picture as it is stored: made anew from the pixels of the file, upright, as JPEG, without anything else that the file had.
/// </summary>
/// <param name="Content">JPEG, at most <see cref="LongestSide"/> pixels on each side.</param>
/// <param name="Thumbnail">JPEG, at most <see cref="LongestThumbnailSide"/> pixels on each side.</param>
/// <param name="Width">Of the content, in pixels.</param>
/// <param name="Height">Of the content, in pixels.</param>
public sealed record Picture(byte[] Content, byte[] Thumbnail, int Width, int Height)
{
    public const string ContentType = "image/jpeg";

    /// <summary>The largest file that is read, in bytes.</summary>
    public const int MaxBytes = 8 * 1024 * 1024;

    public const int LongestSide = 2048, LongestThumbnailSide = 320;
}
