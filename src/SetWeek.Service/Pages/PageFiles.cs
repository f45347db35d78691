using System.Collections.Frozen;
using System.Reflection;
using System.Security.Cryptography;
using Microsoft.AspNetCore.StaticFiles;

namespace SetWeek.Service.Pages;

/// <summary>
/// The style sheet, fonts and icon of the pages, from the assembly. An address holds the hash of the content, so a browser keeps
/// a file for good and a new build is seen at once.
/// </summary>
public static class PageFiles
{
    private const string Root = "/assets", Resources = "assets/";

    private sealed record Asset(string Address, string ContentType, byte[] Content);

    private static readonly FrozenDictionary<string, Asset> ByName = ReadAll();

    private static readonly FrozenDictionary<string, Asset> ByAddress =
        ByName.Values.ToFrozenDictionary(asset => asset.Address);

    /// <summary>The address of a file.</summary>
    /// <exception cref="KeyNotFoundException">There is no such file.</exception>
    public static string Address(string name) => ByName[name].Address;

    /// <summary>Anybody may load these: they say nothing about any chain.</summary>
    public static void Map(IEndpointRouteBuilder routes) =>
        routes.MapMethods($"{Root}/{{hash}}/{{**name}}", [HttpMethods.Get, HttpMethods.Head], Send)
            .AllowAnonymous();

    private static async Task Send(HttpContext http)
    {
        if (!ByAddress.TryGetValue(http.Request.Path.Value ?? "", out var asset))
        {
            http.Response.StatusCode = StatusCodes.Status404NotFound;
            return;
        }
        var response = http.Response;
        response.ContentType = asset.ContentType;
        response.ContentLength = asset.Content.Length;
        response.Headers.CacheControl = "public, max-age=31536000, immutable"; // RFC 8246
        response.Headers.XContentTypeOptions = "nosniff";
        if (!HttpMethods.IsHead(http.Request.Method)) await response.Body.WriteAsync(asset.Content, http.RequestAborted);
    }

    private static FrozenDictionary<string, Asset> ReadAll()
    {
        var assembly = Assembly.GetExecutingAssembly();
        var types = new FileExtensionContentTypeProvider();
        var files = assembly.GetManifestResourceNames().Where(name => name.StartsWith(Resources, StringComparison.Ordinal))
            .ToDictionary(name => name[Resources.Length..], name => Read(assembly, name));
        // One hash for all: the style sheet names the fonts by their place beside it.
        var hash = Convert.ToHexStringLower(SHA256.HashData(
            [.. files.OrderBy(file => file.Key, StringComparer.Ordinal).SelectMany(file => file.Value)]))[..16];
        return files.ToFrozenDictionary(file => file.Key, file => new Asset($"{Root}/{hash}/{file.Key}",
            types.TryGetContentType(file.Key, out var type) ? type : "application/octet-stream", file.Value));
    }

    private static byte[] Read(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
        using var content = new MemoryStream();
        stream.CopyTo(content);
        return content.ToArray();
    }
}
