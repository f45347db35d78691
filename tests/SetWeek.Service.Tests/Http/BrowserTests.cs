namespace SetWeek.Service.Tests.Http;

/// <summary>What somebody sees who opens an address of the service in a browser, and what a program gets there.</summary>
[Collection(ServiceCollection.Name)]
public sealed class BrowserTests(RunningService service)
{
    /// <summary>What Chromium sends, shortened (from memory).</summary>
    private static readonly (string, string) Browser =
        ("Accept", "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,*/*;q=0.8");

    [Fact]
    public async Task The_start_names_the_service_and_links_its_description()
    {
        var client = service.NewChain().HeadOffice;
        var start = await client.Get("/");
        Assert.Equal((200, "application/json", "SetWeek"), (start.Status, start.ContentType, (string)start.Json["name"]!));
        Assert.Equal("</openapi/v1.json>; rel=\"service-desc\"", start.Link); // RFC 8631, section 3
        Assert.Equal(200, (await client.Get((string)start.Json["description"]!)).Status);
        var page = await client.Get("/", Browser);
        Assert.Equal("text/html", page.ContentType);
        Assert.Contains("<a href=\"/openapi/v1.json\">", page.Text);
    }

    [Theory]
    [InlineData("/weeks/nothing", 404)]
    [InlineData("/no-such-thing", 404)]
    [InlineData("/feed?limit=none", 400)]
    public async Task A_refusal_is_a_page_in_a_browser_and_JSON_for_a_program(string path, int status)
    {
        var client = service.NewChain().HeadOffice;
        var page = await client.Get(path, Browser);
        var json = await client.Get(path);
        Assert.Equal((status, "text/html"), (page.Status, page.ContentType));
        Assert.Equal((status, "application/problem+json"), (json.Status, json.ContentType));
        Assert.Contains((string)json.Json["detail"]!, System.Net.WebUtility.HtmlDecode(page.Text));
        foreach (var accept in new[] { "application/json", "application/problem+json", "*/*", "application/json, text/html;q=0.9" })
            Assert.Equal("application/problem+json", (await client.Get(path, ("Accept", accept))).ContentType);
    }

    [Fact]
    public async Task A_refusal_without_a_token_is_a_page_too()
    {
        using var client = service.Host.Server.CreateClient();
        client.DefaultRequestHeaders.TryAddWithoutValidation("Accept", "text/html");
        using var answer = await client.GetAsync("/feed");
        Assert.Equal((401, "text/html"), ((int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
    }

    /// <summary>RFC 9110, section 9.3.2: the same header fields as GET, and no content.</summary>
    [Fact]
    public async Task Every_GET_answers_HEAD()
    {
        var chain = service.NewChain();
        await new Weeks.FirstRain(chain).Open();
        var office = chain.HeadOffice;
        foreach (var path in new[] { "/", "/openapi/v1.json", "/health/live", "/health/ready", "/stores/harbour-street",
            "/directions/first-rain", Weeks.FirstRain.Address, $"{Weeks.FirstRain.Address}/week-file", "/feed" })
        {
            var (head, get) = (await office.Send(HttpMethod.Head, path, (string?)null), await office.Get(path));
            Assert.Equal((200, ""), (head.Status, head.Text));
            Assert.Equal((get.ContentType, get.ETag, get.Link), (head.ContentType, head.ETag, head.Link));
        }
        var missing = await office.Send(HttpMethod.Head, "/stores/nowhere", (string?)null);
        Assert.Equal((404, ""), (missing.Status, missing.Text));
    }
}
