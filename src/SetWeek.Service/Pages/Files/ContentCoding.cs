using System.IO.Compression;
using Microsoft.Net.Http.Headers;

namespace SetWeek.Service.Pages.Files;

/// <summary>
/// A content coding (RFC 9110, section 8.4.1) in which browsers load pages and files. A page may be compressed although it has
/// secrets: those of its forms are masked anew in each answer, so that the size of several answers says nothing about them.
/// </summary>
internal sealed class ContentCoding
{
    private readonly Func<Stream, CompressionLevel, Stream> compressor;

    private ContentCoding(string name, Func<Stream, CompressionLevel, Stream> compressor) =>
        (Name, this.compressor) = (name, compressor);

    /// <summary>
    /// The smallest first. Browsers accept Brotli (RFC 7932) over TLS and from a loopback address, else gzip (RFC 1952).
    /// </summary>
    public static IReadOnlyList<ContentCoding> All { get; } =
    [
        new("br", (stream, level) => new BrotliStream(stream, level)),
        new("gzip", (stream, level) => new GZipStream(stream, level)),
    ];

    /// <summary>Its name in the headers.</summary>
    public string Name { get; }

    public byte[] Compress(ReadOnlySpan<byte> content, CompressionLevel level)
    {
        using var compressed = new MemoryStream();
        using (var stream = compressor(compressed, level)) stream.Write(content);
        return compressed.ToArray();
    }

    /// <returns>
    /// The first that the caller accepts; null if it accepts none. The answer then says that others may get another.
    /// </returns>
    public static ContentCoding? For(HttpContext http)
    {
        http.Response.Headers.Vary = HeaderNames.AcceptEncoding;
        var accepted = http.Request.GetTypedHeaders().AcceptEncoding;
        return All.FirstOrDefault(coding => accepted.Any(given => given.Value == coding.Name && given.Quality is not 0));
    }
}
