using System.IO.Compression;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Files;

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
        foreach (var name in new[] { "start.js", "queue.js", "setweek.webmanifest", "icon-192.png", "literata.woff2" })
            Assert.Contains(addresses, address => address.EndsWith($"/{name}", StringComparison.Ordinal));
        // The manifest and the modules name others by their place beside them.
        foreach (var address in addresses.Where(address => address.EndsWith(".webmanifest", StringComparison.Ordinal)).ToList())
            addresses.AddRange(JsonNode.Parse(await client.GetStringAsync(address))!["icons"]!.AsArray()
                .Select(icon => beside + (string)icon!["src"]!));
        foreach (var module in addresses.Where(address => address.EndsWith(".js", StringComparison.Ordinal)).ToList())
            Assert.All(Imported().Matches(await client.GetStringAsync(module)),
                match => Assert.Contains(beside + match.Groups[1].Value, addresses)); // loaded at once, not one after another
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

    /// <summary>Service Workers, section on register: a worker's scope is its own folder, and it is compared on each start.</summary>
    [Fact]
    public async Task The_service_worker_lies_at_the_root_and_is_asked_for_again()
    {
        using var client = service.Host.Server.CreateClient();
        using var answer = await client.GetAsync("/service-worker.js");
        Assert.Equal("text/javascript", answer.Content.Headers.ContentType!.MediaType);
        Assert.True(answer.Headers.CacheControl!.NoCache);
    }

    /// <summary>The worker cannot import the file of the durations (times.js), so it repeats two of them.</summary>
    [Fact]
    public void The_durations_of_the_scripts_stand_in_one_file_and_the_worker_repeats_them_rightly()
    {
        var scripts = Directory.GetFiles(Repository.PathOf("src", "SetWeek.Service", "Pages", "Assets"), "*.js").ToDictionary(
            file => Path.GetFileName(file), File.ReadAllText);
        var durations = DurationsIn(scripts["times.js"]);
        var repeated = DurationsIn(scripts["service-worker.js"]).Where(one => durations.ContainsKey(one.Key)).ToList();
        Assert.Equal(["answerLimit", "copyDelay"], repeated.Select(one => one.Key).Order(StringComparer.Ordinal));
        Assert.All(repeated, one => Assert.Equal(durations[one.Key], one.Value));
        Assert.All(scripts.Where(script => script.Key is not ("times.js" or "service-worker.js")), script =>
            Assert.DoesNotMatch(@"\b\d{4,}\b|(timeout|setTimeout|setInterval)\(.*\b[1-9]\d+\)", script.Value));
    }

    private static Dictionary<string, string> DurationsIn(string script) => Duration().Matches(script)
        .ToDictionary(match => match.Groups[1].Value, match => match.Groups[2].Value);

    [Theory]
    [InlineData("gzip, deflate, br, zstd", "br")]
    [InlineData("gzip, deflate", "gzip")]
    [InlineData("br;q=0, gzip", "gzip")]
    [InlineData("zstd", null)]
    public async Task A_file_and_a_page_are_compressed_as_the_caller_accepts(string accepted, string? coding)
    {
        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.TryAddWithoutValidation("Accept-Encoding", accepted);
        using var style = await client.GetAsync(PageFiles.Address(StyleSheet.Name));
        using var font = await client.GetAsync(PageFiles.Address("fonts/literata.woff2"));
        using var page = await client.GetAsync("/offline");
        Assert.All([style, page], answer => Assert.Equal(coding, answer.Content.Headers.ContentEncoding.SingleOrDefault()));
        Assert.Empty(font.Content.Headers.ContentEncoding);
        var sent = await style.Content.ReadAsStreamAsync();
        using var text = new StreamReader(coding switch
        {
            "br" => new BrotliStream(sent, CompressionMode.Decompress),
            "gzip" => new GZipStream(sent, CompressionMode.Decompress),
            _ => sent,
        });
        client.DefaultRequestHeaders.Remove("Accept-Encoding");
        Assert.Equal(await client.GetStringAsync(PageFiles.Address(StyleSheet.Name)), await text.ReadToEndAsync());
    }

    /// <summary>A file that the order leaves out would be in no page.</summary>
    [Fact]
    public async Task The_style_sheet_is_one_file_of_every_part_in_the_stated_order()
    {
        var written = Directory.GetFiles(Repository.PathOf("src", "SetWeek.Service", "Pages", "Style")).ToDictionary(
            file => Path.GetFileName(file), File.ReadAllText);
        Assert.Equal(written.Keys.Order(StringComparer.Ordinal), StyleSheet.Parts.Order(StringComparer.Ordinal));
        using var client = service.Host.Server.CreateClient();
        Assert.Equal(string.Concat(StyleSheet.Parts.Select(part => $"{written[part]}\n")),
            await client.GetStringAsync(PageFiles.Address(StyleSheet.Name)));
    }

    /// <summary>The service worker keeps the pages of one session, and a report is sent in that of its person alone.</summary>
    [Fact]
    public async Task A_page_says_whose_it_is()
    {
        var chain = service.NewChain();
        using var lead = await chain.SignedIn("lena", Role.Lead);
        var page = (await lead.Api.Get("/", ("Accept", "text/html"))).Text;
        Assert.Matches($"<html data-session=\"[0-9a-f]{{32}}\" data-person=\"{chain.Tenant}/lena\" lang=", page);
        var open = (await chain.Browser().Api.Get("/", ("Accept", "text/html"))).Text;
        Assert.Contains("<html lang=", open);
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

    [GeneratedRegex("from \"\\./([^\"]+)\"")]
    private static partial Regex Imported();

    [GeneratedRegex(@"(\w+) = ([^,;=]*\b(?:second|minute)\b[^,;]*)[,;]")]
    private static partial Regex Duration();

    [GeneratedRegex(@"url\(([^)]+)\)")]
    private static partial Regex InStyle();
}
