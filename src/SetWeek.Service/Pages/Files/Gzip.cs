using System.IO.Compression;
using Microsoft.Net.Http.Headers;

namespace SetWeek.Service.Pages.Files;

/// <summary>
/// Compression of what browsers load (RFC 1952). A page may be compressed although it has secrets: those of its forms are masked
/// anew in each answer, so that the size of several answers says nothing about them.
/// </summary>
internal static class Gzip
{
    public static byte[] Compress(ReadOnlySpan<byte> content, CompressionLevel level)
    {
        using var compressed = new MemoryStream();
        using (var gzip = new GZipStream(compressed, level)) gzip.Write(content);
        return compressed.ToArray();
    }

    /// <summary>Whether the caller accepts it. The answer then says that others may get another.</summary>
    public static bool IsFor(HttpContext http)
    {
        http.Response.Headers.Vary = HeaderNames.AcceptEncoding;
        return http.Request.GetTypedHeaders().AcceptEncoding.Any(given => given.Value == Name && given.Quality is not 0);
    }

    public const string Name = "gzip";
}
