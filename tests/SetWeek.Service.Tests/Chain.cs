using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Alba;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.IdentityModel.Tokens;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Tests.Http.OpenApi;

namespace SetWeek.Service.Tests;

/// <summary>A tenant of the service for one test, with clients for its people.</summary>
public sealed class Chain(IAlbaHost host, SymmetricSecurityKey key, string tenant)
{
    public string Tenant => tenant;

    /// <summary>The clock of planning, which all tenants share.</summary>
    public TestClock Clock => host.Services.GetRequiredService<TestClock>();

    public ApiClient HeadOffice => As("head", Role.HeadOffice);

    public ApiClient LeadOf(params string[] stores) => As("lena", Role.Lead, stores);

    public ApiClient As(string person, Role role, params string[] stores) =>
        WithToken(TokenOf(person, role, stores));

    public string TokenOf(string person, Role role, params string[] stores) =>
        TokenFor(TimeSpan.FromMinutes(10), person, role, stores);

    public ApiClient WithToken(string token) => new(HttpClient(token));

    /// <summary>A browser that nobody has signed in yet.</summary>
    public Access.Browser Browser(bool tls = false) => new(host, tls);

    /// <summary>A phone on which nobody is signed in, with the form token of its page.</summary>
    public async Task<Access.Browser> Phone()
    {
        var phone = Browser();
        await phone.ReadFormTokenOfPhone();
        return phone;
    }

    /// <summary>A sign-in link as the command line makes it, without the address of the service.</summary>
    /// <param name="age">How long ago it was made.</param>
    public string SignInLink(string person, Role role, string[] stores, TimeSpan age = default, SymmetricSecurityKey? signedBy = null) =>
        new Uri(SignInLinks.Make(signedBy ?? key, new BrowserAddress(Settings.DefaultUrls, null),
            new Caller(tenant, person, role, stores.Length == 0 ? [Caller.AnyStore] : stores),
            TimeProvider.System.GetUtcNow() - age, RandomNumberGenerator.GetHexString(32))).AbsolutePath;

    /// <summary>A browser in which a person has signed in by a link.</summary>
    public async Task<Access.Browser> SignedIn(string person, Role role, params string[] stores)
    {
        var browser = Browser();
        var opened = await browser.Open(SignInLink(person, role, stores));
        Assert.True(opened.Status == 204, opened.Text);
        await browser.ReadFormToken();
        return browser;
    }

    /// <summary>Opens a stream of server-sent events for head office.</summary>
    /// <param name="lifetime">The lifetime of the token; ten minutes unless given.</param>
    public Task<EventStreamReader> Stream(string path, string? lastEventId = null, TimeSpan? lifetime = null) =>
        EventStreamReader.Open(
            HttpClient(TokenFor(lifetime ?? TimeSpan.FromMinutes(10), "head", Role.HeadOffice, [])), path, lastEventId);

    /// <summary>Opens a stream of server-sent events for somebody else.</summary>
    public Task<EventStreamReader> StreamAs(string person, Role role, string path, params string[] stores) =>
        EventStreamReader.Open(HttpClient(TokenOf(person, role, stores)), path, lastEventId: null);

    private HttpClient HttpClient(string token)
    {
        var client = host.Server.CreateClient();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return client;
    }

    private string TokenFor(TimeSpan lifetime, string person, Role role, string[] stores) =>
        Tokens.Issue(key, new Caller(tenant, person, role, stores.Length == 0 ? [Caller.AnyStore] : stores),
            TimeProvider.System.GetUtcNow(), lifetime);
}

/// <summary>
/// An HTTP client with the token of one person. It checks every answer against the API description.
/// </summary>
public sealed class ApiClient(HttpClient client)
{
    public Task<ApiResponse> Get(string path, params (string Name, string Value)[] headers) =>
        Send(HttpMethod.Get, path, (HttpContent?)null, headers);

    public Task<ApiResponse> Post(string path, string body, params (string Name, string Value)[] headers) =>
        Send(HttpMethod.Post, path, body, headers);

    public Task<ApiResponse> Post(string path, string body, CancellationToken cancellation) =>
        Send(HttpMethod.Post, path, new StringContent(body, Encoding.UTF8, "application/json"), [], cancellation);

    public Task<ApiResponse> Put(string path, string body, params (string Name, string Value)[] headers) =>
        Send(HttpMethod.Put, path, body, headers);

    public Task<ApiResponse> Send(HttpMethod method, string path, string? body, params (string Name, string Value)[] headers) =>
        Send(method, path, body is null ? null : new StringContent(body, Encoding.UTF8, "application/json"), headers);

    public Task<ApiResponse> Send(HttpMethod method, string path, HttpContent? content,
        params (string Name, string Value)[] headers) =>
        Send(method, path, content, headers, CancellationToken.None);

    private async Task<ApiResponse> Send(
        HttpMethod method, string path, HttpContent? content, (string Name, string Value)[] headers,
            CancellationToken cancellation)
    {
        using var request = new HttpRequestMessage(method, path) { Content = content };
        foreach (var (name, value) in headers) request.Headers.TryAddWithoutValidation(name, value);
        using var response = await client.SendAsync(request, cancellation);
        var text = await response.Content.ReadAsStringAsync(cancellation);
        DescribedAnswers.Check(response, text);
        return new ApiResponse((int)response.StatusCode, text,
            response.Content.Headers.ContentType?.MediaType,
            response.Headers.ETag?.ToString(), response.Headers.Location?.ToString(),
            response.Headers.TryGetValues("Link", out var link) ? link.Single() : null, response.Headers.RetryAfter?.ToString());
    }
}

/// <summary>A response of the service.</summary>
public sealed record ApiResponse(int Status, string Text, string? ContentType, string? ETag, string? Location, string? Link,
    string? RetryAfter)
{
    public JsonNode Json => JsonNode.Parse(Text)!;

    public byte[] Bytes => Encoding.UTF8.GetBytes(Text);

    public string? Code => (string?)Json["code"];
}
