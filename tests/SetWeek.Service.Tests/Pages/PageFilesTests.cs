using System.Text.RegularExpressions;

namespace SetWeek.Service.Tests.Pages;

/// <summary>What a page loads: files of this service alone, which a browser keeps for good.</summary>
[Collection(ServiceCollection.Name)]
public sealed partial class PageFilesTests(RunningService service)
{
    [Fact]
    public async Task A_page_loads_only_files_of_this_service_that_exist()
    {
        using var client = service.Host.Server.CreateClient(); // without a token
        client.DefaultRequestHeaders.TryAddWithoutValidation("Accept", "text/html");
        var page = await client.GetStringAsync("/");
        var addresses = Loaded().Matches(page).Select(match => match.Groups[1].Value).ToList();
        Assert.Contains(addresses, address => address.EndsWith("/setweek.css", StringComparison.Ordinal));
        var style = await client.GetStringAsync(addresses.Single(address => address.EndsWith(".css", StringComparison.Ordinal)));
        var beside = addresses[0][..(addresses[0].LastIndexOf('/') + 1)];
        addresses.AddRange(InStyle().Matches(style).Select(match => beside + match.Groups[1].Value));
        Assert.Equal(4, addresses.Count); // style sheet, icon, two fonts
        foreach (var address in addresses)
        {
            using var file = await client.GetAsync(address);
            Assert.True(file.IsSuccessStatusCode, address);
            Assert.Contains("immutable", file.Headers.CacheControl!.ToString());
            Assert.NotEqual("application/octet-stream", file.Content.Headers.ContentType!.MediaType);
        }
    }

    /// <summary>Content Security Policy Level 3: without 'unsafe-inline' a browser ignores styles and scripts in a page.</summary>
    [Fact]
    public async Task The_policy_of_a_page_allows_nothing_written_into_it_and_the_page_has_none()
    {
        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.TryAddWithoutValidation("Accept", "text/html");
        using var answer = await client.GetAsync("/");
        var policy = answer.Headers.GetValues("Content-Security-Policy").Single();
        Assert.StartsWith("default-src 'none'", policy);
        Assert.DoesNotContain("unsafe", policy);
        var page = await answer.Content.ReadAsStringAsync();
        Assert.DoesNotMatch("<style|<script(?![^>]* src=)| style=| on[a-z]+=", page);
    }

    [Theory]
    [InlineData("/assets/0123456789abcdef/setweek.css")]
    [InlineData("/assets/0123456789abcdef/%2e%2e/%2e%2e/SetWeek.Service.dll")]
    public async Task There_is_nothing_at_another_address(string address)
    {
        using var client = service.Host.Server.CreateClient();
        using var answer = await client.GetAsync(address);
        Assert.Contains((int)answer.StatusCode, new[] { 401, 404 });
    }

    [GeneratedRegex("<link [^>]*href=\"([^\"]+)\"")]
    private static partial Regex Loaded();

    [GeneratedRegex(@"url\(([^)]+)\)")]
    private static partial Regex InStyle();
}
