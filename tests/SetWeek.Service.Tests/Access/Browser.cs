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

    /// <summary>Sends the form of a page that has the button, with the values in it, as a browser without script does.</summary>
    /// <param name="typed">What is typed, chosen or ticked in its fields before; a field that the form lacks is a mistake of the test.</param>
    public async Task<HttpResponseMessage> PressButton(
        string page, string button, params IReadOnlyList<(string Name, string Value)> typed)
    {
        var form = Regex.Matches(page, "<form .*?</form>", RegexOptions.Singleline).Select(match => match.Value)
            .First(form => WebUtility.HtmlDecode(form).Contains($">{button}</button>", StringComparison.Ordinal));
        Assert.All(typed, field => Assert.Contains($"name=\"{WebUtility.HtmlEncode(field.Name)}\"", form, StringComparison.Ordinal));
        var fields = FieldsOf(form).Where(field => typed.All(other => other.Name != field.Key))
            .Concat(typed.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        var request = new HttpRequestMessage(HttpMethod.Post, AttributeOf(form, "action")) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Accept", "text/html");
        return await client.SendAsync(request);
    }

    /// <summary>
    /// Fills in the form of a page that has the button, and sends it, as a browser without script does: what is not chosen in boxes
    /// and lists is not sent.
    /// </summary>
    /// <param name="filled">The names and values of what is typed and chosen. A typed value replaces what is in the field.</param>
    public async Task<HttpResponseMessage> FillIn(string page, string button, params (string Name, string Value)[] filled)
    {
        var form = Regex.Matches(page, "<form .*?</form>", RegexOptions.Singleline).Select(match => match.Value)
            .Single(form => WebUtility.HtmlDecode(form).Contains($">{button}</button>", StringComparison.Ordinal));
        var inputs = Regex.Matches(form, "<input [^>]*>").Select(input => input.Value).ToList();
        foreach (var (name, value) in filled)
            Assert.True(inputs.Any(input => AttributeOf(input, "name") == name
                    && (AttributeOf(input, "type") is not ("radio" or "checkbox") || AttributeOf(input, "value") == value))
                || Regex.IsMatch(form, $"<textarea [^>]* ?name=\"{Regex.Escape(name)}\"")
                || Regex.IsMatch(form, $"<select [^>]*name=\"{Regex.Escape(name)}\".*?<option value=\"{Regex.Escape(value)}\"", RegexOptions.Singleline),
                $"The form has no field {name} for {value}.");
        // Chosen buttons come before the hidden field of their row, as in the page.
        var fields = filled.Where(field => field.Value != "").Select(field => KeyValuePair.Create(field.Name, field.Value)).ToList();
        fields.AddRange(inputs.Where(input => AttributeOf(input, "type") is not ("radio" or "checkbox"))
            .Select(input => KeyValuePair.Create(AttributeOf(input, "name"), AttributeOf(input, "value")))
            .Where(input => input.Value != "" || filled.All(field => field.Name != input.Key || input.Key.EndsWith(":row", StringComparison.Ordinal))));
        var request = new HttpRequestMessage(HttpMethod.Post, AttributeOf(form, "action")) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Accept", "text/html");
        return await client.SendAsync(request);
    }

    /// <summary>What a browser sends of a form: boxes that are not ticked are left out (HTML Living Standard, section 4.10.22.4).</summary>
    private static IEnumerable<KeyValuePair<string, string>> FieldsOf(string form)
    {
        foreach (Match field in Regex.Matches(form, "<input [^>]*>|<select .*?</select>|<textarea .*?</textarea>", RegexOptions.Singleline))
        {
            var (element, name) = (field.Value, AttributeOf(field.Value, "name"));
            if (element.StartsWith("<select", StringComparison.Ordinal))
            {
                var options = Regex.Matches(element, "<option [^>]*>").Select(option => option.Value).ToList();
                if ((options.Find(option => Regex.IsMatch(option, " selected(=|>| )")) ?? options.FirstOrDefault()) is { } chosen)
                    yield return KeyValuePair.Create(name, AttributeOf(chosen, "value"));
            }
            else if (element.StartsWith("<textarea", StringComparison.Ordinal))
                yield return KeyValuePair.Create(name,
                    WebUtility.HtmlDecode(Regex.Match(element, "<textarea [^>]*>(.*)</textarea>", RegexOptions.Singleline).Groups[1].Value));
            else if (AttributeOf(element, "type") is not ("checkbox" or "radio") || Regex.IsMatch(element, " checked(=|>| )"))
                yield return KeyValuePair.Create(name, AttributeOf(element, "value"));
        }
    }

    /// <summary>Posts fields as a form of a page does.</summary>
    public Task<HttpResponseMessage> PostForm(string address, IEnumerable<KeyValuePair<string, string>> fields)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, address) { Content = new FormUrlEncodedContent(fields) };
        request.Headers.Add("Accept", "text/html");
        return client.SendAsync(request);
    }

    private static string AttributeOf(string element, string name) =>
        WebUtility.HtmlDecode(Regex.Match(element, $" {name}=\"([^\"]*)\"").Groups[1].Value);

    public async Task ReadFormToken() => FormToken = (string?)(await Api.Get("/session")).Json["formToken"];

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
