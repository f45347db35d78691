using System.Net;
using System.Text;
using Xunit.Sdk;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>The comparison that every test of the service makes finds an answer that is not as described.</summary>
public sealed class DescribedAnswersTests
{
    private const string Store = """
        {"id": "a", "name": "A", "timeZone": "Europe/London", "zones": [], "equipment": [], "features": []}
        """;

    [Fact]
    public void An_answer_as_described_passes()
    {
        Check("GET", "/stores/a", 200, Store);
        Check("POST", "/stores", 201, Store, ("Location", "/stores/a"), ("ETag", "\"1\""));
        Check("GET", "/stores/a", 404, """{"type": "about:blank", "title": "Not found", "status": 404, "detail": "None."}""",
            type: "application/problem+json");
    }

    [Theory]
    [InlineData("GET", "/stores/a", 200, """{"id": "a", "name": "A"}""", "application/json")] // required members are missing
    [InlineData("GET", "/stores/a", 200, "[]", "application/json")]
    [InlineData("GET", "/stores/a", 200, Store, "text/csv")]
    [InlineData("GET", "/stores/a", 418, "{}", "application/json")]
    [InlineData("GET", "/nowhere", 200, "{}", "application/json")]
    [InlineData("POST", "/stores", 201, Store, "application/json")] // without its Location
    [InlineData("GET", "/stores/a", 404, """{"type": "about:blank", "title": "Not found", "status": "404", "detail": "None."}""",
        "application/problem+json")]
    public void An_answer_that_is_not_as_described_fails(string method, string path, int status, string content, string type) =>
        Assert.ThrowsAny<XunitException>(() => Check(method, path, status, content, type: type));

    [Fact]
    public void A_member_or_a_header_that_is_not_described_fails()
    {
        Assert.ThrowsAny<XunitException>(() => Check("GET", "/stores/a", 200, Store.Replace("\"name\"", "\"zzz\": 1, \"name\"")));
        Assert.ThrowsAny<XunitException>(() => Check("GET", "/stores/a", 200, Store, ("Location", "/stores/a")));
    }

    private static void Check(
        string method, string path, int status, string content, params (string Name, string Value)[] headers) =>
        Check(method, path, status, content, "application/json", headers);

    private static void Check(
        string method, string path, int status, string content, string type, params (string Name, string Value)[] headers)
    {
        using var answer = new HttpResponseMessage((HttpStatusCode)status)
        {
            RequestMessage = new HttpRequestMessage(new HttpMethod(method), $"http://localhost{path}"),
            Content = new StringContent(content, Encoding.UTF8, type),
        };
        foreach (var (name, value) in headers) answer.Headers.Add(name, value);
        DescribedAnswers.Check(answer, content);
    }
}
