using System.Collections.Frozen;
using System.IO.Compression;
using System.Reflection;
using System.Security.Cryptography;
using Microsoft.AspNetCore.StaticFiles;
using SetWeek.Service.Pages.Files;

namespace SetWeek.Service.Pages;

/// <summary>
/// The style sheet, fonts, icons and script modules of the pages, from the assembly. An address holds the hash of the content, so
/// a browser keeps a file for good and a new build is seen at once.
/// </summary>
public static class PageFiles
{
    private const string Root = "/assets", Resources = "assets/", StyleParts = "style/";

    /// <param name="Compressed">The content in each coding, by its name; empty for what is compressed already.</param>
    private sealed record Asset(
        string Address, string ContentType, byte[] Content, IReadOnlyDictionary<string, byte[]> Compressed);

    private static readonly FrozenDictionary<string, Asset> ByName = ReadAll();

    private static readonly FrozenDictionary<string, Asset> ByAddress =
        ByName.Values.ToFrozenDictionary(asset => asset.Address);

    /// <summary>The addresses of the modules that every page loads, the first of which imports the others.</summary>
    public static IReadOnlyList<string> Modules { get; } =
        [.. new[]
            {
                "start.js", "acts.js", "entered.js", "kept.js", "live.js", "queue.js", "refill.js", "reports.js",
                "times.js", "words.js",
            }
            .Select(Address)];

    /// <summary>The address of a file.</summary>
    /// <exception cref="KeyNotFoundException">There is no such file.</exception>
    public static string Address(string name) => ByName[name].Address;

    /// <summary>Anybody may load these: they say nothing about any chain.</summary>
    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapMethods($"{Root}/{{hash}}/{{**name}}", [HttpMethods.Get, HttpMethods.Head], Send)
            .AllowAnonymous();

    /// <summary>The service worker, which has an address without hash: a browser asks for it again and compares.</summary>
    public static Task SendWorker(HttpContext http)
    {
        http.Response.Headers.CacheControl = "no-cache";
        http.Response.Headers.ContentSecurityPolicy = "default-src 'none'; connect-src 'self'";
        return Send(http, ByName["service-worker.js"]);
    }

    private static async Task Send(HttpContext http)
    {
        if (!ByAddress.TryGetValue(http.Request.Path.Value ?? "", out var asset))
        {
            http.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        http.Response.Headers.CacheControl = "public, max-age=31536000, immutable"; // RFC 8246
        await Send(http, asset);
    }

    private static async Task Send(HttpContext http, Asset asset)
    {
        var response = http.Response;
        var content = asset.Content;
        if (asset.Compressed.Count > 0 && ContentCoding.For(http) is { } coding)
        {
            response.Headers.ContentEncoding = coding.Name;
            content = asset.Compressed[coding.Name];
        }
        response.ContentType = asset.ContentType;
        response.ContentLength = content.Length;
        response.Headers.XContentTypeOptions = "nosniff";
        if (!HttpMethods.IsHead(http.Request.Method)) await response.Body.WriteAsync(content, http.RequestAborted);
    }

    private static FrozenDictionary<string, Asset> ReadAll()
    {
        var assembly = Assembly.GetExecutingAssembly();
        var types = new FileExtensionContentTypeProvider();
        var files = assembly.GetManifestResourceNames().Where(name => name.StartsWith(Resources, StringComparison.Ordinal))
            .ToDictionary(name => name[Resources.Length..], name => Read(assembly, name));
        files[StyleSheet.Name] = StyleSheet.Joined(part => Read(assembly, StyleParts + part));
        // One hash for all: the style sheet names the fonts by their place beside it.
        var hash = Convert.ToHexStringLower(SHA256.HashData(
            [.. files.OrderBy(file => file.Key, StringComparer.Ordinal).SelectMany(file => file.Value)]))[..16];
        return files.ToFrozenDictionary(file => file.Key, file => new Asset($"{Root}/{hash}/{file.Key}",
            types.TryGetContentType(file.Key, out var type) ? type : "application/octet-stream", file.Value,
            (Path.GetExtension(file.Key) is ".woff2" or ".png" ? [] : ContentCoding.All)
                .ToDictionary(coding => coding.Name, coding => coding.Compress(file.Value, CompressionLevel.SmallestSize))));
    }

    private static byte[] Read(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
        using var content = new MemoryStream();
        stream.CopyTo(content);
        return content.ToArray();
    }
}
