using Microsoft.AspNetCore.Http;
using SetWeek.Service.Pages;

namespace SetWeek.Browser.Tests;

/// <summary>
/// Answers as the service of another version: its files have another hash, its pages name them so, and those of the version that
/// was built are not to be had.
/// </summary>
internal static class OtherVersion
{
    private static readonly string Built = PageFiles.Address("start.js").Split('/')[2];

    /// <param name="version">As many hexadecimal digits as a hash has (16), so that a page stays as long as it is.</param>
    public static async Task Answer(HttpContext http, RequestDelegate next, string version)
    {
        Assert.Equal(Built.Length, version.Length);
        if (http.Request.Path.StartsWithSegments($"/assets/{Built}")) http.Response.StatusCode = 404;
        else if (http.Request.Path.StartsWithSegments($"/assets/{version}", out var file))
        {
            http.Request.Path = $"/assets/{Built}{file}";
            await next(http);
        }
        else if (IsForPage(http)) await SendPage(http, next, version);
        else await next(http);
    }

    /// <summary>What else is answered, as a stream of events, is sent while it comes.</summary>
    private static bool IsForPage(HttpContext http) =>
        http.Request.Headers.Accept.ToString().StartsWith("text/html", StringComparison.Ordinal);

    private static async Task SendPage(HttpContext http, RequestDelegate next, string version)
    {
        http.Request.Headers.AcceptEncoding = default;
        var body = http.Response.Body;
        using var page = new MemoryStream();
        http.Response.Body = page;
        try
        {
            await next(http);
        }
        finally
        {
            http.Response.Body = body;
        }
        var text = System.Text.Encoding.UTF8.GetString(page.ToArray());
        await http.Response.WriteAsync(text.Replace($"/assets/{Built}/", $"/assets/{version}/", StringComparison.Ordinal));
    }
}
