using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace SetWeek.Service.Tests.Http;

[Collection(ServiceCollection.Name)]
public sealed class InvalidInputTests(RunningService service)
{
    public static TheoryData<string> Invalid => new()
    {
        "", " ", "{", "[]", "null", "1", "\"text\"", "{\"id\": }", "{\"id\":\"a\"} {}",
        "{\"id\":\"\\ud800\"}", new string('[', 5000),
        Samples.Store().Replace("\"harbour-street\"", "42"),
        Samples.Store().Replace("\"harbour-street\"", "\"Harbour Street\""),
        Samples.Store().Replace("harbour-street", "a'; drop table setweek.mt_events; --"),
        Samples.Store().Replace("harbour-street", "../../etc/passwd"),
        Samples.Store().Replace("\"Harbour Street\"", "\"a\\u0000b\""),
        Samples.Store().Replace("\"Harbour Street\"", "\"" + new string('x', 300) + "\""),
        Samples.Store().Replace("Europe/London", "Europe/Atlantis"),
        Samples.Store().Replace("\"maxPeople\": 2", "\"maxPeople\": -1"),
        Samples.Store().Replace("\"maxPeople\": 2", "\"maxPeople\": 1e400"),
        Samples.Store().Replace("\"maxPeople\"", "\"maxPeopel\""),
        Samples.Store().Replace("[{\"id\": \"window\"", "[{\"id\": \"window\", \"name\": \"Again\"}, {\"id\": \"window\""),
    };

    [Theory]
    [MemberData(nameof(Invalid))]
    public async Task An_invalid_body_is_400_and_nothing_is_stored(string body)
    {
        var chain = service.NewChain();
        var answer = await chain.HeadOffice.Post("/stores", body);
        Assert.Equal((400, "application/problem+json"), (answer.Status, answer.ContentType));
        Assert.All(answer.Json["errors"]!.AsArray(), fault => Assert.NotEqual("", (string?)fault!["detail"]));
        Assert.NotEmpty(answer.Json["errors"]!.AsArray());
        Assert.Empty((await chain.HeadOffice.Get("/feed")).Json.AsArray());
    }

    [Fact]
    public async Task All_faults_are_reported_at_once_with_pointers()
    {
        var answer = await service.NewChain().HeadOffice
            .Post("/stores", """{"id": 4, "bogus": 1, "zones": [{"id": "window", "name": ""}]}""");
        var pointers = answer.Json["errors"]!.AsArray().Select(fault => (string)fault!["pointer"]!).Order(StringComparer.Ordinal);
        Assert.Equal(["/bogus", "/id", "/name", "/timeZone", "/zones/0/name"], pointers);
    }

    [Fact]
    public async Task Problem_details_have_the_members_of_RFC_9457()
    {
        // RFC 9457, section 3.1: type, title, status, detail; "about:blank" if the status alone describes the problem (section
        // 4.2.1).
        var answer = (await service.NewChain().HeadOffice.Get("/stores/nowhere")).Json.AsObject();
        Assert.Equal(("about:blank", 404), ((string)answer["type"]!, (int)answer["status"]!));
        Assert.False(string.IsNullOrEmpty((string?)answer["title"]) || string.IsNullOrEmpty((string?)answer["detail"]));
    }

    [Theory]
    [InlineData("text/plain")]
    [InlineData("application/xml")]
    public async Task A_body_of_another_media_type_is_415(string type)
    {
        var content = new ByteArrayContent(Encoding.UTF8.GetBytes(Samples.Store()));
        content.Headers.ContentType = new MediaTypeHeaderValue(type);
        var answer = await service.NewChain().HeadOffice.Send(HttpMethod.Post, "/stores", content);
        Assert.Equal((415, "application/problem+json"), (answer.Status, answer.ContentType));
    }

    [Fact]
    public async Task A_body_beyond_the_limit_is_413()
    {
        var answer = await service.NewChain().HeadOffice.Send(HttpMethod.Post, "/stores", new StringContent(
            "{\"id\": \"" + new string('x', 8 * 1024 * 1024) + "\"}", Encoding.UTF8, "application/json"));
        Assert.Equal((413, "application/problem+json"), (answer.Status, answer.ContentType));
    }

    [Theory]
    [InlineData("/stores/Upper")]
    [InlineData("/stores/%27%3Bdrop")]
    [InlineData("/stores/..%2f..%2fetc")]
    [InlineData("/stores/\u202e")]
    [InlineData("/no-such-thing")]
    public async Task An_invalid_address_is_404(string path)
    {
        var answer = await service.NewChain().HeadOffice.Get(path);
        Assert.Equal((404, "application/problem+json"), (answer.Status, answer.ContentType));
    }

    [Fact]
    public async Task An_unknown_method_is_405_and_lists_the_allowed_ones()
    {
        var answer = await service.NewChain().HeadOffice.Send(HttpMethod.Delete, "/stores/harbour-street", (string?)null);
        Assert.Equal((405, "application/problem+json"), (answer.Status, answer.ContentType));
        Assert.Contains("GET", answer.Text);
    }

    [Fact]
    public async Task A_store_is_opened_once()
    {
        var head = service.NewChain().HeadOffice;
        var opened = await head.Post("/stores", Samples.Store());
        Assert.Equal((201, "/stores/harbour-street", "\"1\""), (opened.Status, opened.Location, opened.ETag));
        Assert.Equal((409, "store-open"),
            ((await head.Post("/stores", Samples.Store())) is var again ? (again.Status, again.Code) : default));
        var read = await head.Get(opened.Location!);
        Assert.True(JsonNode.DeepEquals(opened.Json, read.Json));
        foreach (var known in new[] { read.ETag!, $"W/{read.ETag}", $"\"7\", {read.ETag}", "*" })
            Assert.Equal(304, (await head.Get(opened.Location!, ("If-None-Match", known))).Status);
        Assert.Equal(200, (await head.Get(opened.Location!, ("If-None-Match", "\"7\""))).Status);
    }
}
