using System.Net;
using System.Text.RegularExpressions;
using Alba;

namespace SetWeek.Service.Tests.Access;

/// <summary>Keeps cookies as a browser does, and sends no token of its own accord but what it is told to.</summary>
public sealed class Browser : IDisposable
{
    private readonly HttpClient client;
    private readonly CookieJar jar;

    public Browser(IAlbaHost host, bool tls)
    {
        jar = new CookieJar { InnerHandler = host.Server.CreateHandler() };
        client = new HttpClient(jar) { BaseAddress = new Uri(tls ? "https://localhost" : "http://localhost") };
        Api = new ApiClient(client);
    }

    /// <summary>Its requests; each answer is compared with the description.</summary>
    public ApiClient Api { get; }

    /// <summary>The Set-Cookie headers of the last answer.</summary>
    public IReadOnlyList<string> LastCookies => jar.Last;

    /// <summary>What its changes send in the header of the form token; null: nothing.</summary>
    public string? FormToken
    {
        get => client.DefaultRequestHeaders.TryGetValues(Service.Access.Sessions.FormToken.Header, out var values) ? values.Single() : null;
        set
        {
            client.DefaultRequestHeaders.Remove(Service.Access.Sessions.FormToken.Header);
            if (value is not null) client.DefaultRequestHeaders.Add(Service.Access.Sessions.FormToken.Header, value);
        }
    }

    /// <summary>The value of its cookie of that name; null if it has none.</summary>
    public string? CookieOf(string name) => jar.Cookies.GetCookies(client.BaseAddress!)[name]?.Value;

    public void SetCookie(string name, string value) => jar.Cookies.Add(client.BaseAddress!, new Cookie(name, value, "/"));

    /// <summary>Opens a sign-in link and presses its button, if there is one.</summary>
    /// <returns>The answer to the button, or to the link if its page has none.</returns>
    public async Task<ApiResponse> Open(string link)
    {
        var page = await Api.Get(link, ("Accept", "text/html"));
        return page.Status != 200 ? page : await Press(link, page.Text);
    }

    public Task<ApiResponse> Press(string link, string page, string? accept = null) =>
        Api.Send(HttpMethod.Post, link, new FormUrlEncodedContent([new(Service.Access.Sessions.FormToken.Field, TokenIn(page))]),
            accept is null ? [] : [("Accept", accept)]);

    /// <summary>Fills in the form of a page that has the button, and sends it.</summary>
    /// <param name="filled">What is typed, chosen or ticked; a field that the form lacks is a mistake of the test.</param>
    public Task<ApiResponse> PressButton(string page, string button, params IReadOnlyList<(string Name, string Value)> filled) =>
        filled.Aggregate(PageForm.With(page, button), (form, field) => form.Fill(field.Name, field.Value)).Send(this);

    /// <summary>Posts fields that no form of a page has.</summary>
    public Task<ApiResponse> PostForm(string address, IEnumerable<KeyValuePair<string, string>> fields) =>
        Api.Send(HttpMethod.Post, address, new FormUrlEncodedContent(fields), ("Accept", "text/html"));

    public async Task ReadFormToken() => FormToken = (string?)(await Api.Get("/session")).Json["formToken"];

    /// <summary>The same on a phone on which nobody is signed in.</summary>
    public async Task ReadFormTokenOfPhone() => FormToken = (string?)(await Api.Get("/phone")).Json["formToken"];

    private static string TokenIn(string page) =>
        WebUtility.HtmlDecode(Regex.Match(page, "name=\":token\" value=\"([^\"]+)\"").Groups[1].Value);

    public void Dispose() => client.Dispose();

    private sealed class CookieJar : DelegatingHandler
    {
        public CookieContainer Cookies { get; } = new();

        public IReadOnlyList<string> Last { get; private set; } = [];

        protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellation)
        {
            if (Cookies.GetCookieHeader(request.RequestUri!) is { Length: > 0 } sent) request.Headers.Add("Cookie", sent);
            var answer = await base.SendAsync(request, cancellation);
            Last = answer.Headers.TryGetValues("Set-Cookie", out var set) ? [.. set] : [];
            foreach (var cookie in Last) Cookies.SetCookies(request.RequestUri!, cookie);
            return answer;
        }
    }
}
