using System.Text;
using SetWeek.Service.Pictures;
using SkiaSharp;
using static SetWeek.Service.Tests.Photos.TestPictures;

namespace SetWeek.Service.Tests.Photos;

public sealed class PictureReaderTests
{
    public static TheoryData<string, byte[]> Kinds => new() { { "JPEG", Jpeg() }, { "PNG", Png() }, { "WebP", WebP() } };

    [Theory]
    [MemberData(nameof(Kinds), DisableDiscoveryEnumeration = true)]
    public void A_picture_is_made_anew_as_JPEG(string kind, byte[] file)
    {
        var picture = PictureReader.Read(file).AsT0;
        Assert.True(picture is { Width: 80, Height: 40 }, kind);
        using var codec = SKCodec.Create(new MemoryStream(picture.Content));
        Assert.Equal(SKEncodedImageFormat.Jpeg, codec.EncodedFormat);
        Assert.Equal([TopLeft, TopRight, BottomLeft, BottomRight], CornersOf(picture.Content));
        Assert.Equal([TopLeft, TopRight, BottomLeft, BottomRight], CornersOf(picture.Thumbnail));
    }

    [Fact]
    public void A_large_photograph_is_stored_smaller_and_has_a_thumbnail()
    {
        var picture = PictureReader.Read(Jpeg(4000, 3000)).AsT0;
        Assert.Equal((2048, 1536), (picture.Width, picture.Height));
        using var thumbnail = SKBitmap.Decode(picture.Thumbnail);
        Assert.Equal((320, 240), (thumbnail.Width, thumbnail.Height));
        Assert.Equal([TopLeft, TopRight, BottomLeft, BottomRight], CornersOf(picture.Content));
    }

    [Fact]
    public void Where_it_was_taken_and_with_what_is_not_in_the_stored_picture()
    {
        var file = WithSegment(WithExif(Jpeg(), 1, "Maker of cameras"), 0xFE, "A comment"u8.ToArray());
        Assert.All(["Exif", "Maker of cameras", "A comment"], text => Assert.True(Contains(file, text)));
        var picture = PictureReader.Read(file).AsT0;
        foreach (var stored in new[] { picture.Content, picture.Thumbnail })
        {
            Assert.All(["Exif", "Maker of cameras", "A comment"], text => Assert.False(Contains(stored, text)));
            // The 51st degree of latitude and its fraction, as the block holds them.
            Assert.True(stored.AsSpan().IndexOf((ReadOnlySpan<byte>)[0, 0, 0, 51, 0, 0, 0, 1]) < 0);
        }
    }

    /// <summary>
    /// EXIF 2.3, tag Orientation (0x0112): where the first row and the first column of the stored pixels are when it is looked at.
    /// </summary>
    [Theory]
    [InlineData(1, "top", "left"), InlineData(2, "top", "right"), InlineData(3, "bottom", "right"), InlineData(4, "bottom", "left")]
    [InlineData(5, "left", "top"), InlineData(6, "right", "top"), InlineData(7, "right", "bottom"), InlineData(8, "left", "bottom")]
    public void A_photograph_is_turned_as_it_is_looked_at(ushort orientation, string row, string column)
    {
        var picture = PictureReader.Read(WithExif(Jpeg(), orientation, "Maker")).AsT0;
        Assert.Equal(row is "top" or "bottom" ? (80, 40) : (40, 80), (picture.Width, picture.Height));
        var looked = new Dictionary<string, SKColor>();
        foreach (var (firstRow, firstColumn, colour) in new[]
            { (true, true, TopLeft), (true, false, TopRight), (false, true, BottomLeft), (false, false, BottomRight) })
        {
            string[] sides = [firstRow ? row : Opposite(row), firstColumn ? column : Opposite(column)];
            looked[$"{sides.Single(side => side is "top" or "bottom")} {sides.Single(side => side is "left" or "right")}"] = colour;
        }
        Assert.Equal([looked["top left"], looked["top right"], looked["bottom left"], looked["bottom right"]],
            CornersOf(picture.Content));

        static string Opposite(string side) =>
            side switch { "top" => "bottom", "bottom" => "top", "left" => "right", _ => "left" };
    }

    public static TheoryData<string, byte[], string> Hostile => new()
    {
        { "zero bytes", [], "photo-empty" },
        { "9 MiB", [.. Jpeg(), .. new byte[9 * 1024 * 1024]], "photo-too-large" },
        { "a web page", Encoding.UTF8.GetBytes("<!doctype html><script>alert(1)</script>"), "photo-unknown-form" },
        { "a drawing with a script", Encoding.UTF8.GetBytes("<svg xmlns=\"http://www.w3.org/2000/svg\"/>"), "photo-unknown-form" },
        { "another picture form", [.. "GIF89a"u8, 1, 0, 1, 0, 0, 0, 0, 0x3B], "photo-unknown-form" },
        { "the beginning of a JPEG", [0xFF, 0xD8, 0xFF], "photo-damaged" },
        { "half a JPEG", Jpeg()[..^200], "photo-damaged" },
        { "half a PNG", Png()[..^30], "photo-damaged" },
        { "half a WebP", WebP()[..^30], "photo-damaged" },
        { "JPEG and archive", [.. Jpeg(), .. "PK\u0003\u0004"u8, .. new byte[100]], "photo-and-document" },
        { "PNG and web page", [.. Png(), .. "\n<HTML><Script>"u8], "photo-and-document" },
        { "WebP and PDF", [.. WebP(), .. "%PDF-1.7"u8], "photo-and-document" },
        { "50,000 x 50,000", PngOfSize(50_000, 50_000), "photo-too-many-pixels" },
        { "20,000 x 1", PngOfSize(20_000, 1), "photo-too-many-pixels" },
        { "6,000 x 5,000 without smaller decoding", PngOfSize(6_000, 5_000), "photo-too-many-pixels" },
        { "a picture without its pixels", PngOfSize(3_000, 2_000), "photo-damaged" },
    };

    [Theory]
    [MemberData(nameof(Hostile), DisableDiscoveryEnumeration = true)]
    public void What_is_no_photograph_is_refused(string what, byte[] file, string code)
    {
        var refusal = PictureReader.Read(file);
        Assert.True(refusal.IsT1, what);
        Assert.Equal(code, refusal.AsT1.Code);
    }

    [Fact]
    public void A_JPEG_with_very_many_scans_is_refused()
    {
        var file = Jpeg();
        byte[] scan = [0xFF, 0xDA, 0, 8, 1, 1, 0, 0, 63, 0];
        Assert.Equal("photo-damaged", PictureReader.Read(
            (byte[])[.. file[..^2], .. Enumerable.Repeat(scan, 200).SelectMany(bytes => bytes), .. file[^2..]]).AsT1.Code);
    }

    /// <summary>Phones write a second picture or a film behind the first; it is not stored.</summary>
    [Fact]
    public void What_follows_the_picture_is_left_out()
    {
        byte[] film = [0, 0, 0, 24, .. "ftypmp42"u8, .. new byte[300]];
        var alone = PictureReader.Read(Jpeg()).AsT0.Content;
        Assert.Equal(alone, PictureReader.Read((byte[])[.. Jpeg(), .. film]).AsT0.Content);
        Assert.Equal(alone, PictureReader.Read((byte[])[.. Jpeg(), .. Png()]).AsT0.Content);
    }

    /// <summary>Whatever the bytes are, the answer is a picture or a refusal.</summary>
    [Fact]
    public void No_file_makes_the_reader_fail()
    {
        byte[][] files = [WithExif(Jpeg(), 6, "Maker"), Png(), WebP()];
        var random = new Random(17);
        for (var round = 0; round < 300; round++)
        {
            var bytes = files[random.Next(files.Length)].ToArray();
            for (var change = random.Next(8); change > 0; change--) bytes[random.Next(bytes.Length)] = (byte)random.Next(256);
            if (random.Next(2) == 0) bytes = bytes[..random.Next(bytes.Length)];
            Assert.True(PictureReader.Read(bytes).Match(picture => picture.Content.Length > 0, refusal => refusal.Code.Length > 0));
        }
    }

    private static bool Contains(byte[] bytes, string text) => bytes.AsSpan().IndexOf(Encoding.ASCII.GetBytes(text)) >= 0;

    /// <summary>The colours of the four quarters, each as the colour of the test picture that it is nearest to.</summary>
    private static SKColor[] CornersOf(byte[] jpeg)
    {
        using var bitmap = SKBitmap.Decode(jpeg);
        return
        [
            .. from y in new[] { bitmap.Height / 4, bitmap.Height * 3 / 4 }
               from x in new[] { bitmap.Width / 4, bitmap.Width * 3 / 4 }
               let seen = bitmap.GetPixel(x, y)
               select new[] { TopLeft, TopRight, BottomLeft, BottomRight }.MinBy(colour => Math.Abs(colour.Red - seen.Red)
                   + Math.Abs(colour.Green - seen.Green) + Math.Abs(colour.Blue - seen.Blue)),
        ];
    }
}
